package outside

import (
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"syscall"
	"testing"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/store"
	"bench/oilcan/store/storetest"
)

// TestProgramKilled kills the built program at random moments of its commands, by turns: a finding, a
// swap with what it takes from the drawer, a backup, and now and then the first write of a day, which
// backs up before. What was acknowledged is there each time, whole, and the file is in order.
func TestProgramKilled(t *testing.T) {
	bin, err := built()
	if err != nil {
		t.Fatal(err)
	}
	kills := storetest.Times(12, 200, 2000)
	dir := t.TempDir()
	file := filepath.Join(dir, "bench.oilcan")
	benchOf(t, file, heron, "drawer count blade=9000")
	begun := time.Now()
	benchOf(t, file, "finding add Heron unkilled", "swap blade Heron --worn")
	whole := time.Since(begun) // of two: a kill comes in the middle of one, or shortly after
	acked, killed := map[string]bool{"unkilled": true}, 0
	swaps := 0
	for n := 0; killed < kills; n++ {
		text := fmt.Sprintf("k%d", n)
		args := [][]string{
			{"finding", "add", "Heron", text}, {"swap", "blade", "Heron", "--worn"},
			{"finding", "add", "Heron", text}, {"backup", filepath.Join(dir, "copy.db"), "--force"},
		}[n%4]
		cmd := exec.Command(bin, append([]string{"--file", file}, args...)...)
		now := time.Date(2026, 11, 25, 10, 0, 0, 0, time.UTC).Add(time.Duration(n) * time.Hour)
		cmd.Env = append(os.Environ(), "OILCAN_NOW="+now.Format(time.RFC3339), "TZ=UTC", "HOME="+dir,
			"XDG_CONFIG_HOME=")
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		late := time.AfterFunc(time.Duration(rand.Int64N(int64(whole))), func() { _ = cmd.Process.Kill() })
		err := cmd.Wait()
		late.Stop()
		switch {
		case err == nil && args[0] == "finding":
			acked[text] = true
		case err == nil && args[0] == "swap":
			swaps++
		case err != nil && exitedBy(cmd) == syscall.SIGKILL:
			killed++
		case err != nil:
			t.Fatalf("%q ended by itself: %v", args, err)
		}
		if n%10 == 9 || killed == kills {
			requireAcked(t, file, now, acked, swaps)
		}
		if t.Failed() {
			t.Fatalf("after %d kills", killed)
		}
	}
	benchOf(t, file, "due") // whose start sweeps
	if litter, _ := filepath.Glob(filepath.Join(dir, ".oilcan-*")); len(litter) > 0 {
		t.Errorf("left behind: %v", litter)
	}
	t.Logf("%d kills, %d findings and %d swaps acknowledged", killed, len(acked), swaps)
}

// requireAcked requires a data file to be whole and to hold what was acknowledged, each action whole.
func requireAcked(t *testing.T, file string, now time.Time, acked map[string]bool, swaps int) {
	t.Helper()
	st, err := store.Open(file, func() time.Time { return now })
	if err != nil {
		t.Fatal(err)
	}
	if r, err := st.Check(); err != nil || !r.OK() {
		t.Errorf("%v %v", err, r.Problems)
	}
	es, err := st.Entries(store.Filter{})
	if err != nil {
		t.Fatal(err)
	}
	parts := map[string]map[model.EntryKind]bool{}
	have := map[string]bool{}
	for _, e := range es {
		if e.Finding != nil {
			have[e.Finding.Text] = true
		}
		if parts[e.Action] == nil {
			parts[e.Action] = map[model.EntryKind]bool{}
		}
		parts[e.Action][e.Kind] = true
	}
	for text := range acked {
		if !have[text] {
			t.Errorf("%s was acknowledged and is not there", text)
		}
	}
	written := 0
	for _, kinds := range parts {
		if kinds[model.KindSwap] {
			written++
			if !kinds[model.KindStock] {
				t.Error("a swap is there without what it took from the drawer")
			}
		}
	}
	if written < swaps {
		t.Errorf("%d swaps were acknowledged, %d are there", swaps, written)
	}
}
