package printfile

import (
	"archive/zip"
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/model/job"
	"bench/oilcan/model/verdict"
	"bench/oilcan/procedures"
)

func TestReadLength(t *testing.T) {
	for text, want := range map[string]time.Duration{"3 h 40": 220 * time.Minute,
		"3h40m": 220 * time.Minute,
		"3:40":  220 * time.Minute, "220 min": 220 * time.Minute, "75s": 75 * time.Second,
		"2 h":        2 * time.Hour,
		"5 min 30 s": 330 * time.Second, "40": 0, "1 h 75 s": 0, "": 0, "h": 0, "0 min": 0, "9999 h": 0, "soon": 0, "-3 h": 0} {
		got, err := ReadLength(text, 1000*time.Hour)
		if got != want || (err == nil) != (want > 0) {
			t.Errorf("%q is %v, %v", text, got, err)
		}
	}
}

// What comes on top of the movement is said, one thing or several.
func TestTimeText(t *testing.T) {
	for want, r := range map[string]job.Report{
		"41 min": {Moving: 41 * time.Minute},
		"41 min moving; heating comes on top": {Moving: 41 * time.Minute,
			Waits: job.Waits{Heats: 1}},
		"41 min moving; 1 change comes on top": {Moving: 41 * time.Minute, ToolChanges: 1},
		"41 min moving; heating and 77 changes come on top": {Moving: 41 * time.Minute,
			ToolChanges: 77,
			Hottest:     job.Temperatures{HotEnd: 200}},
		"51 min; heating and 2 changes by hand come on top": {Moving: 41 * time.Minute,
			ToolChanges: 7, ManualChanges: 2,
			Waits: job.Waits{Heats: 1, Changing: 10 * time.Minute}},
		"1 h 01 ± 7 min": {Moving: 41 * time.Minute, ToolChanges: 7, Timed: 2,
			Spread: 7 * time.Minute,
			Waits:  job.Waits{Heats: 1, Heating: 10 * time.Minute, Changing: 10 * time.Minute}},
	} {
		if got := timeText(&r); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// What a machine cannot print is said, and what nobody needs to load.
func TestDoubtsOnAMachine(t *testing.T) {
	text := "G90\nM83\nT0\nG1 X9 E9\nT1\nG1 X0 E9\nT2\nG1 X9 E9\n"
	loaded, err := ParseLoaded("0=PLA,5=PLA", procedures.Materials())
	if err != nil {
		t.Fatal(err)
	}
	j := read(t, "a.gcode", text, Options{Loaded: loaded})
	for want, m := range map[string]*model.Machine{
		"a material is said for T5, which never prints in it": nil,
		"it changes its filament by tool twice, and Heron has no changer on record": {
			MachineFact: model.MachineFact{Name: "Heron"}},
		"it prints with 3 tools, and Heron holds 2": {MachineFact: model.MachineFact{Name: "Heron",
			Features: []model.Feature{"changer"}, Settings: map[string]string{"slots": "2"}}},
	} {
		if got := strings.Join(j.Doubts(m), "; "); !strings.Contains(got, want) {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// A container with several plates is all of them, or the one asked for by its number.
func TestPlates(t *testing.T) {
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for _, name := range []string{"m/plate_2.gcode", "m/plate_1.gcode"} {
		w, err := z.Create(name)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := w.Write([]byte("G1 X" + name[len("m/plate_"):][:1] + " E1\n")); err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "two.zip")
	if err := os.WriteFile(path, b.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	all, err := Read(context.Background(), path, nil, Options{})
	if err != nil || len(all) != 2 || Sum(all, Hot)[0] != "all 2 prints   0 changes · 0 s" {
		t.Fatalf("%+v %v", Sum(all, Hot), err)
	}
	one, err := Read(context.Background(), path, nil, Options{Plate: 2})
	if err != nil || len(one) != 1 || one[0].Name != "two.zip: m/plate_2.gcode" ||
		one[0].Report.Travel[0].MM() != 2 {
		t.Errorf("%+v %v", one, err)
	}
	if _, err := Read(context.Background(), path, nil, Options{Plate: 3}); err == nil ||
		!strings.Contains(err.Error(), "the container has no plate 3") {
		t.Errorf("%v", err)
	}
}

// How long a print took is its hours, and the machine's times are learned from it.
func TestTook(t *testing.T) {
	loaded, err := ParseLoaded("ABS", procedures.Materials())
	if err != nil {
		t.Fatal(err)
	}
	j := read(
		t,
		"a.gcode",
		"G90\nM83\nT0\nG1 X600 F10 E9\nT1\nG1 X0 E9\n",
		Options{Loaded: loaded},
	) // 2 h
	now := time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC)
	m := &model.Machine{
		MachineFact: model.MachineFact{Name: "Heron"},
		Readings:    map[model.Meter]*model.Series{},
	}
	facts, _, err := Recorded(m, []Job{j}, now, 3*time.Hour)
	if err != nil {
		t.Fatal(err)
	}
	p := facts[0].Printed
	if p.Need[model.Hours] != 3 || p.Need[model.StyrenicHours] != 3 || p.Time == nil ||
		p.Time.Took != 10800 ||
		p.Time.Moving < 7100 || p.Time.Moving > 7300 ||
		p.Time.Changes != 1 {
		t.Errorf("%+v %+v", p, p.Time)
	}
}

// What the drawer then lacks is said, of parts that are renewed and no others.
func TestSpares(t *testing.T) {
	rows := []verdict.Row{
		{Spare: "blade", Swap: verdict.Before},
		{Spare: "wiper", Swap: verdict.After},
		{Spare: "filter"},
		{Swap: verdict.Before},
	}
	count := func(v float64) *float64 { return &v }
	d := model.Drawer{
		"blade":  {Count: count(1)},
		"wiper":  {Count: count(0)},
		"filter": {Count: count(0)},
	}
	got := strings.Join(Spares([]verdict.Result{{Rows: rows}}, d), "; ")
	if want := "blade: 1 needed, the last in the drawer; wiper: 1 needed, none in the drawer"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	d["blade"].Count = count(3)
	d["blade"].Minimum = 3
	got = strings.Join(Spares([]verdict.Result{{Rows: rows}, {Rows: rows}}, d), "; ")
	if want := "blade: 2 needed, which leaves 1, below its minimum of 3; wiper: 1 needed, none in the drawer"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

// The reasons for before and after stand once, with names where there are several.
func TestLegend(t *testing.T) {
	row := func(name, swap, reason string) verdict.Row {
		return verdict.Row{Gauge: model.Gauge{Short: name}, Swap: swap, Reason: reason}
	}
	got := strings.Join(Legend([]verdict.Row{row("a", "before", "x"), row("b", "before", "y"),
		row("c", "after", "z"), row("d", "after", "z"), row("e", "", "")}), "; ")
	if want := "done before: x (a); done before: y (b); done after: z"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}
