package outside

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"regexp"
	"strings"
	"testing"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/store"
)

// folded reads a data file: what it comes to, and its entries.
func folded(t *testing.T, file string) (*model.Bench, []model.Entry) {
	t.Helper()
	now := func() time.Time { return time.Date(2026, 11, 25, 9, 14, 0, 0, time.UTC) }
	st, err := store.Open(file, now)
	if err != nil {
		t.Fatal(err)
	}
	b, err := st.Bench()
	if err != nil {
		t.Fatal(err)
	}
	entries, err := st.Entries(store.Filter{})
	if err != nil {
		t.Fatal(err)
	}
	report, err := st.Check()
	if err != nil || len(report.Problems) > 0 {
		t.Errorf("%v, %v", report.Problems, err)
	}
	return b, entries
}

// written writes a file of a test, and gives its path.
func written(t *testing.T, name, text string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// TestABookTakenInIsEqual: what is written out and taken in folds to the same bench, entry by
// entry; taken in again it changes nothing.
func TestABookTakenInIsEqual(t *testing.T) {
	file := demoFile(t)
	book := written(t, "book.jsonl", runAt(t, file, formatsNow, "book", "--json"))
	other := filepath.Join(t.TempDir(), "other.oilcan")
	for range 2 {
		runAt(t, other, formatsNow, "import", book)
		bench, entries := folded(t, file)
		gotBench, got := folded(t, other)
		if !reflect.DeepEqual(got, entries) {
			t.Error("the entries are not the same")
		}
		if !reflect.DeepEqual(gotBench, bench) || !reflect.DeepEqual(model.Fold(got),
			model.Fold(entries)) {
			t.Error("the entries do not fold to the same bench")
		}
	}
	if out := runAt(t, other, formatsNow, "book", "--json"); out != runAt(t, file, formatsNow,
		"book", "--json") {
		t.Error("written out again it is another book")
	}
}

// TestAMachineHandedOver: its history is on the other bench, without the drawer of the first; back
// again it brings what was added.
func TestAMachineHandedOver(t *testing.T) {
	file, other := demoFile(t), filepath.Join(t.TempDir(), "other.oilcan")
	there, back := filepath.Join(t.TempDir(), "heron.jsonl"), filepath.Join(t.TempDir(), "back.jsonl")
	was := runAt(t, file, formatsNow, "gauges", "Heron")
	_, before := folded(t, file)
	runAt(t, file, formatsNow, "machine", "hand-over", "Heron", there)
	runAt(t, other, formatsNow, "machine", "add", "Crane")
	runAt(t, other, formatsNow, "machine", "take-in", there)
	if got := runAt(t, other, formatsNow, "gauges", "Heron"); got != was {
		t.Errorf("the gauges there are\n%s\nand were\n%s", got, was)
	}
	b, _ := folded(t, other)
	if len(b.Drawer) != 0 || len(b.Machines) != 2 {
		t.Errorf("%d parts in the drawer, %d machines", len(b.Drawer), len(b.Machines))
	}
	runAt(t, other, formatsNow, "done", "rods-wipe", "Heron")
	runAt(t, other, formatsNow, "machine", "hand-over", "Heron", back)
	runAt(t, file, formatsNow, "machine", "take-in", back)
	if _, entries := folded(t, file); len(entries) != len(before)+1 {
		t.Errorf("%d entries came back, not one", len(entries)-len(before))
	}
}

// spoiled are edits of a book that make it one nobody can have written, and what is then said.
var spoiled = []struct{ name, find, put, says string }{
	{"cut off", `"struck":true}`, `"stru`, "is no JSON object"},
	{"newer", `^\{"v":4,`, `{"v":9,`, "has format 9"},
	{"a key of no book", `^\{"v":4,`, `{"v":4,"colour":"red",`, "unknown field"},
	{"no id", `"id":"01[^"]*"`, `"id":""`, "has no id"},
	{"ahead of the clock", `"written":"2026`, `"written":"2036`, "which is not yet"},
	{"before all machines", `"at":"2026`, `"at":"1926`, "cannot be"},
	{"no word of ours", `"kind":"waiting"`, `"kind":"broken!"`, "is no tag"},
	{"what a terminal obeys", `"by":"Ada"`, `"by":"\u001b[2JAda"`, "cannot be shown"},
	{"a negative count", `"value":`, `"value":-`, "number from 0 on"},
	{"another machine", `"machine":"demo-Heron"`, `"machine":"demo-Nobody"`, "another machine"},
	{"a text under another name", `"kind":"text","hash":"`, `"kind":"text","hash":"0`,
		"wrong hash"},
	{"a session without its begin", `"session":"01[^"]*","ordinal":1`,
		`"session":"01M8KNB3CZVTP2WHDZXX4DZAY3","ordinal":1`, "session"},
	{"an ordinal left out", `"ordinal":2`, `"ordinal":3`, "carried on elsewhere"},
	{"a strike of nothing", `"strike":\{"action":"`, `"strike":{"action":"x`, "can be struck"},
	{"the same id twice", ``, ``, "says something else"},
}

// TestASpoiledRecordIsRefused: what is taken in is judged as what is typed; nothing of it is
// written then.
func TestASpoiledRecordIsRefused(t *testing.T) {
	file := demoFile(t)
	book := runAt(t, file, formatsNow, "book", "--json")
	bin, err := built()
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range spoiled {
		t.Run(c.name, func(t *testing.T) {
			text := once(book, c.find, c.put)
			if c.find == "" {
				last := book[strings.LastIndex(strings.TrimSpace(book), "\n")+1:]
				text = book + strings.Replace(last, "wrong machine", "another reason", 1)
			}
			if text == book {
				t.Fatal("nothing was spoiled")
			}
			other := filepath.Join(t.TempDir(), "other.oilcan")
			runAt(t, other, formatsNow, "machine", "add", "Crane")
			_, before := folded(t, other)
			cmd := exec.Command(bin, "import", written(t, "book.jsonl", text))
			cmd.Env = append(os.Environ(), "HOME="+t.TempDir(), "OILCAN_NOW="+formatsNow,
				"OILCAN_FILE="+other)
			var errs bytes.Buffer
			cmd.Stderr = &errs
			if err := cmd.Run(); err == nil {
				t.Fatal("it was taken in")
			}
			if !strings.Contains(errs.String(), c.says) {
				t.Errorf("said is %q, not %q", errs.String(), c.says)
			}
			if _, after := folded(t, other); len(after) != len(before) {
				t.Errorf("%d entries were written", len(after)-len(before))
			}
		})
	}
}

// once puts a text in the place of the first match of a pattern, which is over lines.
func once(text, find, put string) string {
	at := regexp.MustCompile("(?m)" + find).FindStringIndex(text)
	if find == "" || at == nil {
		return text
	}
	return text[:at[0]] + put + text[at[1]:]
}
