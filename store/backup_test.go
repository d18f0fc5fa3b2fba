package store

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"bench/oilcan/model"
	"bench/oilcan/store/storetest"
)

func TestBackupAndRestore(t *testing.T) {
	s, c := newStore(t)
	id := addMachine(t, s, "Anvil")
	dst := filepath.Join(t.TempDir(), "copy.db")
	for range 2 { // the second one replaces the first
		if err := s.Backup(dst, true); err != nil {
			t.Fatal(err)
		}
	}
	if r, err := checkFile(dst, schemaNow); err != nil || !r.OK() || r.Machines != 1 {
		t.Errorf("%+v %v", r, err)
	}
	mustAppend(t, s, model.Action{Machine: id, Facts: []model.Fact{care("oil")}})
	first := mustBench(t, s)
	aside, err := Restore(s.Path(), dst, nil)
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(aside, ".before-restore-") {
		t.Errorf("kept as %s", aside)
	}
	if r, err := checkFile(aside, schemaNow); err != nil || !r.OK() || r.Entries != 2 {
		t.Errorf("the file kept: %+v %v", r, err)
	}
	if !s.Changed() {
		t.Error("the replaced file was not noticed")
	}
	b := mustBench(t, s)
	if b == first || len(b.Machines[id].Care) != 0 {
		t.Errorf("%+v", b.Machines[id])
	}
	// What is worked with is no backup, so none may be written over it.
	other, err := Open(filepath.Join(t.TempDir(), "other.db"), c.now)
	if err != nil {
		t.Fatal(err)
	}
	if err := other.Backup(s.Path(), true); !errors.Is(err, ErrRefused) {
		t.Error(err)
	}
}

func TestBackupRefusesToOverwrite(t *testing.T) {
	s, c := newStore(t)
	addMachine(t, s, "Anvil")
	dir := t.TempDir()
	text, live := filepath.Join(dir, "letter.txt"), filepath.Join(dir, "live.db")
	write(t, text, []byte("dear all"))
	if _, err := Open(live, c.now); err != nil {
		t.Fatal(err)
	}
	link := filepath.Join(dir, "link.db")
	if err := os.Symlink(s.Path(), link); err != nil {
		t.Fatal(err)
	}
	worked := filepath.Join(dir, "worked.db")
	if err := s.Backup(worked, false); err != nil {
		t.Fatal(err)
	}
	w, err := Open(worked, c.now)
	if err != nil {
		t.Fatal(err)
	}
	addMachine(t, w, "Brass")
	cases := []struct{ name, dst, want string }{
		{"a letter", text, "no backup of oilcan"},
		{"another bench", live, "worked with"},
		{"a backup somebody works with", worked, "worked with"},
		{"itself", s.Path(), "data file itself"},
		{"itself by another name", link, "data file itself"},
		{"a folder", dir, "is a folder"},
		{"a folder that is not there", filepath.Join(dir, "no", "copy.db"), "there is no folder"},
	}
	older := filepath.Join(dir, "older.db")
	if err := s.Backup(older, false); err != nil {
		t.Fatal(err)
	}
	before := read(t, older)
	if err := s.Backup(older, false); !errors.Is(err, ErrRefused) ||
		!strings.Contains(err.Error(), "--force") || string(read(t, older)) != string(before) {
		t.Errorf("over an older backup: %v", err)
	}
	if err := s.Backup(older, true); err != nil {
		t.Errorf("over an older backup, as was asked for: %v", err)
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			before, _ := os.ReadFile(c.dst)
			if err := s.Backup(c.dst, true); err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("%v, want %q", err, c.want)
			}
			if after, _ := os.ReadFile(c.dst); string(after) != string(before) {
				t.Error("it was changed")
			}
		})
	}
	if files, _ := filepath.Glob(filepath.Join(dir, ".oilcan-*")); len(files) > 0 {
		t.Errorf("left behind: %v", files)
	}
}

func TestRestoreRefuses(t *testing.T) {
	s, _ := newStore(t)
	addMachine(t, s, "Anvil")
	dir := t.TempDir()
	good := filepath.Join(dir, "good.db")
	if err := s.Backup(good, false); err != nil {
		t.Fatal(err)
	}
	data, err := os.ReadFile(good)
	if err != nil {
		t.Fatal(err)
	}
	text, short, flipped := filepath.Join(dir, "text"), filepath.Join(dir,
		"short.db"), filepath.Join(dir, "flipped.db")
	write(t, text, []byte("dear all"))
	write(t, short, data[:len(data)/2])
	bad := strings.Replace(string(data), `"name":"Anvil"`, `"name":"Envil"`, -1)
	write(t, flipped, []byte(bad))
	for name, src := range map[string]string{"a text": text, "half a file": short,
		"a changed record": flipped} {
		t.Run(name, func(t *testing.T) {
			if _, err := Restore(s.Path(), src, nil); !errors.Is(err, ErrDamaged) ||
				!strings.Contains(err.Error(), "nothing was changed") {
				t.Error(err)
			}
			if b := mustBench(t, s); len(b.Machines) != 1 {
				t.Error("the data file was changed")
			}
		})
	}
	if _, err := Restore(s.Path(), filepath.Join(dir, "none"), nil); !errors.Is(err, ErrRefused) {
		t.Error(err)
	}
	if files, _ := filepath.Glob(s.Path() + ".*"); len(files) > 0 {
		t.Errorf("left behind: %v", files)
	}
}

// TestDaily writes on every day of ten weeks: the first write of a day backs up what was there
// before it; seven days and four weeks are kept, and the oldest and the newest of them can be
// restored.
func TestDaily(t *testing.T) {
	s, c := newStore(t)
	dir := BackupDir(s.Path())
	s.KeepDaily(dir, func(err error) { t.Error(err) })
	id := addMachine(t, s, "Anvil") // a file with nothing in it needs no backup
	entries := map[string]int{}     // day -> how many there were before its first write
	for day := 1; day <= 70; day++ {
		c.toDay(day)
		entries[c.t.Format(dailyDate)] = len(mustEntries(t, s, Filter{}))
		for range 2 {
			mustAppend(t, s, model.Action{Machine: id, Facts: []model.Fact{care("oil")}})
		}
	}
	write(t, filepath.Join(dir, "oilcan-notes.db"), []byte("mine"))
	kept := dailies(dir, s.Path())
	var names []string
	for _, p := range kept {
		names = append(names, filepath.Base(p)[len("bench-"):][:len(dailyDate)])
	}
	// 10 May 2026 is a Sunday
	if got := strings.Join(names,
		" "); got != "2026-05-10 2026-05-09 2026-05-08 2026-05-07 2026-05-06 2026-05-05 2026-05-04 "+
		"2026-05-03 2026-04-26 2026-04-19 2026-04-12" {
		t.Errorf("kept %s", got)
	}
	for i, p := range kept {
		path := filepath.Join(t.TempDir(), "bench.db")
		if _, err := Restore(path, p, nil); err != nil {
			t.Fatal(err)
		}
		r, err := Open(path, c.now)
		if err != nil {
			t.Fatal(err)
		}
		if n := len(mustEntries(t, r, Filter{})); n != entries[names[i]] {
			t.Errorf("%s holds %d entries, and there were %d", names[i], n, entries[names[i]])
		}
	}
	if info, err := os.Stat(kept[0]); err != nil || info.Mode().Perm() != fileMode {
		t.Errorf("%v %v", info.Mode(), err)
	}
	if info, err := os.Stat(dir); err != nil || info.Mode().Perm() != folderMode {
		t.Errorf("%v %v", info.Mode(), err)
	}
}

// TestDailyOnlyWhereNeeded: one a day, none where nothing was written since, and a write goes on
// where none can be made.
func TestDailyOnlyWhereNeeded(t *testing.T) {
	s, c := newStore(t)
	dir := BackupDir(s.Path())
	made := func(want bool) {
		t.Helper()
		path, err := s.Daily(dir)
		if err != nil || (path != "") != want {
			t.Errorf("day %v: %q %v", c.t, path, err)
		}
	}
	made(false) // nothing is there yet
	id := addMachine(t, s, "Anvil")
	made(true)
	made(false) // today's is there
	c.toDay(1)
	made(false) // nothing was written since
	failed := 0
	no := filepath.Join(t.TempDir(), "file")
	write(t, no, nil)
	s.KeepDaily(filepath.Join(no, "backups"), func(error) { failed++ })
	for range 2 {
		mustAppend(t, s, model.Action{Machine: id, Facts: []model.Fact{care("oil")}})
	}
	if failed != 1 {
		t.Errorf("told %d times", failed)
	}
	made(true)
}

// TestDamagedNamesTheBackup: the newest backup that is whole, not merely the newest.
func TestDamagedNamesTheBackup(t *testing.T) {
	s, c := newStore(t)
	id := addMachine(t, s, "Anvil")
	path := filepath.Join(t.TempDir(), "bench.db")
	if _, err := Restore(path, backupOf(t, s), nil); err != nil {
		t.Fatal(err)
	}
	w, err := Open(path, c.now)
	if err != nil {
		t.Fatal(err)
	}
	var made []string
	for day := range 2 {
		c.toDay(day)
		mustAppend(t, w, model.Action{Machine: id, Facts: []model.Fact{care("oil")}})
		b, err := w.Daily(BackupDir(path))
		if err != nil {
			t.Fatal(err)
		}
		made = append(made, b)
	}
	write(t, made[1], []byte("not any more"))
	write(t, path, nil)
	_, err = w.Bench()
	if !errors.Is(err, ErrDamaged) || !strings.Contains(err.Error(), made[0]) {
		t.Error(err)
	}
	if _, err := Restore(path, made[0], nil); err != nil {
		t.Fatal(err)
	}
	if b := mustBench(t, w); b.Machines[id].Care["oil"].Times != 1 {
		t.Errorf("%+v", b.Machines[id].Care["oil"])
	}
}

func backupOf(t testing.TB, s *Store) string {
	t.Helper()
	dst := filepath.Join(t.TempDir(), "copy.db")
	if err := s.Backup(dst, false); err != nil {
		t.Fatal(err)
	}
	return dst
}

// TestTwoFilesInOneFolderKeepTheirBackupsApart: a backup offered for another file would replace a
// bench.
func TestTwoFilesInOneFolderKeepTheirBackupsApart(t *testing.T) {
	dir := t.TempDir()
	if a, b := dailyPrefix(filepath.Join(dir, "north.oilcan")), dailyPrefix(
		filepath.Join(dir, "south.oilcan")); a == b {
		t.Errorf("both are called %s", a)
	}
	write(t, filepath.Join(dir, "north-2026-03-07.db"), []byte("x"))
	if got := dailies(dir, filepath.Join(dir, "south.oilcan")); len(got) != 0 {
		t.Errorf("south is offered %v", got)
	}
}

// What is restored is judged as strictly as what is typed: a backup may have been made by anyone.
func TestRestoreJudgesEveryEntry(t *testing.T) {
	s, c := newStore(t)
	id := addMachine(t, s, "Anvil")
	mustAppend(t, s, act(id,
		model.Fact{Kind: model.KindReading, Reading: &model.Reading{Meter: model.Hours, Value: 12,
			How: "typed"}},
		model.Fact{Kind: model.KindFinding, Finding: &model.Found{Kind: "note", Text: "hums"}},
		model.Fact{Kind: model.KindTag, Tag: &model.TagMove{Kind: "limits", Why: "slow"}}))
	for name, change := range map[string][2]string{
		"a name with a colour":     {`"Anvil"`, `"An\u001b[31mvil"`},
		"a name turned round":      {`"Anvil"`, "\"An\u202evil\""},
		"a name that is an option": {`"Anvil"`, `"--file"`},
		"a duty that is none":      {`"duty":"home"`, `"duty":"\u001b]52;c;QUJD\u0007"`},
		"a text with a C1 control": {`"hums"`, "\"hums\u009b2J\""},
		"a text that is a flood":   {`"hums"`, `"` + strings.Repeat("x", 20<<10) + `"`},
		"a kind of finding":        {`"kind":"note"`, `"kind":"Note this"`},
		"a tag":                    {`"kind":"limits"`, `"kind":"no limits"`},
		"a meter":                  {`"meter":"hours"`, `"meter":"miles"`},
		"a number":                 {`"value":12`, `"value":-12`},
	} {
		t.Run(name, func(t *testing.T) {
			src := filepath.Join(t.TempDir(), "crafted.db")
			if err := s.Backup(src, false); err != nil {
				t.Fatal(err)
			}
			storetest.Craft(t, src, map[string]string{change[0]: change[1]})
			if crafted, err := Open(src, c.now); err != nil {
				t.Fatal(err)
			} else if err := crafted.Rebuild(); err != nil {
				t.Fatal(err)
			}
			_, err := Restore(s.Path(), src, nil)
			if !errors.Is(err, ErrRefused) ||
				!strings.Contains(err.Error(), "nothing was changed") ||
				!strings.Contains(err.Error(), "entry ") {
				t.Error(err)
			}
		})
	}
}

// Daily makes today's backup as the first write of a day does.
func (s *Store) Daily(dir string) (string, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.daily(dir)
}
