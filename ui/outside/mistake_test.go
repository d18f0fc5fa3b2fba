package outside

import (
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/model/walk/walktest"
	"bench/oilcan/procedures"
	"bench/oilcan/store"
	"bench/oilcan/ui/session"
)

// mistakes are put into the session's screen: what stands there once, and what it becomes. A capital
// X is a mistake in a key; after W the next write is followed by one, after V the next frame has one.
var mistakes = []struct{ file, was, is string }{
	{"update.go", "\tcase screen.Press:\n", "\tcase screen.Press:\n" +
		"\t\tswitch armed = armed + msg.Key(); armed {\n" +
		"\t\tcase \"X\": panic(\"a mistake in a key\")\n" +
		"\t\tcase \"W\", \"V\": return nil\n\t\t}\n"},
	{"update.go", "\tcase walkWritten:\n", "\tcase walkWritten:\n" +
		"\t\tif strings.HasPrefix(armed, \"W\") { panic(\"a mistake behind a write\") }\n"},
	{"update.go", "\n// Update takes a message",
		"\nvar armed string\n\n// Update takes a message"},
	{"walk_view.go", "{ return v.drawn }", "{\n" +
		"\tif armed == \"V\" { panic(\"a mistake in a frame\") }\n\treturn v.drawn\n}\n"},
}

// builtWithMistakes gives the program with the mistakes in it.
func builtWithMistakes(t *testing.T) string {
	t.Helper()
	dir, texts := t.TempDir(), map[string]string{}
	for _, m := range mistakes {
		path, err := filepath.Abs(filepath.Join(root, "ui", "screen", "walk", m.file))
		if err != nil {
			t.Fatal(err)
		}
		if texts[path] == "" {
			text, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			texts[path] = string(text)
		}
		if strings.Count(texts[path], m.was) != 1 {
			t.Fatalf("%q stands %d times in %s", m.was, strings.Count(texts[path], m.was), m.file)
		}
		texts[path] = strings.Replace(texts[path], m.was, m.is, 1)
	}
	overlay := struct{ Replace map[string]string }{map[string]string{}}
	for path, text := range texts {
		overlay.Replace[path] = filepath.Join(dir, filepath.Base(path))
		writeFile(t, overlay.Replace[path], []byte(text))
	}
	list, err := json.Marshal(overlay)
	if err != nil {
		t.Fatal(err)
	}
	writeFile(t, filepath.Join(dir, "overlay.json"), list)
	bin := filepath.Join(dir, "mistaken")
	out, err := exec.Command("go", "build", "-ldflags=-w", "-overlay",
		filepath.Join(dir, "overlay.json"), "-o", bin, root).CombinedOutput()
	if err != nil {
		t.Fatalf("go build: %v\n%s", err, out)
	}
	return bin
}

func writeFile(t *testing.T, path string, data []byte) {
	t.Helper()
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
}

// TestAMistakeInASession: the program ends by a mistake of its own in the middle of a session. The
// terminal is as it was, one sentence says so and names the report, nothing that was answered is
// lost, and the next start goes on at the very step.
func TestAMistakeInASession(t *testing.T) {
	mistaken := builtWithMistakes(t)
	good, err := built()
	if err != nil {
		t.Fatal(err)
	}
	const pause = "\x10"
	for _, c := range []struct {
		what string
		keys []string
		more int // entries the keys write before it
	}{
		{"a mistake in a key", []string{"X"}, 0},
		{"a mistake behind a write", []string{"W", pause}, 1},
		{"a mistake in a frame", []string{"V"}, 0},
	} {
		t.Run(c.what, func(t *testing.T) {
			file, id, st := begunSession(t)
			was := answerSome(t, st, id, 12)
			answered := entriesOf(t, st, id)
			home := t.TempDir()
			env := []string{"OILCAN_NOW=" + pinned, "HOME=" + home}
			s := sit(t, env, mistaken, "--file", file)
			s.waits("most pressing")
			s.keys("c")
			s.waits("How does the machine stand?")
			resumed := entriesOf(t, st, id)
			for _, k := range c.keys {
				s.keys(k)
			}
			if code := s.ends(); code != 3 {
				t.Errorf("exit code %d", code)
			}
			s.left()
			report := filepath.Join(home, ".local", "state", "oilcan", "report.txt")
			requireReport(t, s, report, c.what)
			after := entriesOf(t, st, id)
			if len(after) != len(resumed)+c.more || len(resumed) <= len(answered) {
				t.Errorf("%d entries, %d before the mistake, %d before that start", len(after),
					len(resumed), len(answered))
			}
			again := sit(t, env, good, "--file", file)
			again.waits("most pressing")
			again.keys("c")
			again.waits("How does the machine stand?")
			again.keys(pause)
			again.waits("most pressing")
			again.keys("q")
			if code := again.ends(); code != 0 {
				t.Errorf("it ends with %d", code)
			}
			again.left()
			if now := openAt(t, st, id); now != was {
				t.Errorf("it goes on at %q, was at %q", now, was)
			}
			if r, err := st.Check(); err != nil || !r.OK() {
				t.Errorf("%v %v", err, r.Problems)
			}
		})
	}
}

// requireReport requires a mistake to be said in one sentence that names the report, and the report to
// say where it happened.
func requireReport(t *testing.T, s *seat, path, what string) {
	t.Helper()
	said := strings.Join(strings.Fields(s.all()), " ")
	for _, text := range []string{"this is a mistake of the program (" + what + ")", "in " + path} {
		if !strings.Contains(said, text) {
			t.Errorf("%q is not said: %q", text, s.drawn())
		}
	}
	if strings.Contains(said, "goroutine ") {
		t.Error("a trace is written over the screen")
	}
	report, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	for _, text := range []string{what, "ui/screen/walk", "goroutine "} {
		if !strings.Contains(string(report), text) {
			t.Errorf("the report lacks %q:\n%s", text, report)
		}
	}
}

func entriesOf(t *testing.T, st *store.Store, id string) []model.Entry {
	t.Helper()
	es, err := st.Entries(store.Filter{Session: id})
	if err != nil {
		t.Fatal(err)
	}
	return es
}

// opened is a session as it stands in the data file.
func opened(t *testing.T, st *store.Store, id string) *session.Session {
	t.Helper()
	lib, _ := procedures.Load("")
	s, err := session.Desk{Store: st, Lib: lib, By: "LN"}.Open(id)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// openAt is the step a session stands at.
func openAt(t *testing.T, st *store.Store, id string) string {
	t.Helper()
	return opened(t, st, id).W.Position()
}

// answerSome answers so many prompts of a session well, and gives the step it stands at then.
func answerSome(t *testing.T, st *store.Store, id string, n int) string {
	t.Helper()
	now, err := time.Parse(time.RFC3339, pinned)
	if err != nil {
		t.Fatal(err)
	}
	s := opened(t, st, id)
	if _, err := s.Settle(now); err != nil {
		t.Fatal(err)
	}
	for range n {
		text := walktest.Good(s.W, s.Context(now), s.W.Prompt(now))
		v, err := s.Judge(session.Answer{Text: text, Meant: true}, now)
		if err == nil {
			v.Reply, err = s.Take(v.Reply, now)
		}
		if err != nil || v.Refusal != "" {
			t.Fatalf("%q: %v %s", text, err, v.Refusal)
		}
	}
	return s.W.Position()
}
