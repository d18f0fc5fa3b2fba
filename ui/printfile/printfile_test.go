package printfile

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"bench/oilcan/model"
	"bench/oilcan/model/job"
	"bench/oilcan/procedures"
)

func TestParseLoaded(t *testing.T) {
	for text, want := range map[string]struct {
		all   string
		tools map[int]string
		err   string
	}{
		"":               {},
		"PLA":            {all: "PLA"},
		" petg ":         {all: "PETG"},
		"0=PLA,T1=PA-CF": {tools: map[int]string{0: "PLA", 1: "PA-CF"}},
		"PLA,3=abs":      {all: "PLA", tools: map[int]string{3: "ABS"}},
		"adamant":        {err: "there is no material"},
		"unknown":        {err: "there is no material"},
		"0=":             {err: "there is no material"},
		"x=PLA":          {err: "is no tool"},
		"999=PLA":        {err: "is no tool"},
		"PVC":            {err: "is not printed"},
	} {
		l, err := ParseLoaded(text, procedures.Materials())
		if want.err != "" {
			if err == nil || !strings.Contains(err.Error(), want.err) {
				t.Errorf("%q gives %v", text, err)
			}
			continue
		}
		if err != nil || (l.All == nil) != (want.all == "") || len(l.Tools) != len(want.tools) {
			t.Errorf("%q gives %+v %v", text, l, err)
			continue
		}
		if l.All != nil && l.All.Name != want.all {
			t.Errorf("%q gives %s", text, l.All.Name)
		}
		for n, name := range want.tools {
			if !strings.HasPrefix(l.Tools[n].Name, strings.SplitN(name, "-", 2)[0]) {
				t.Errorf("%q has %s in tool %d", text, l.Tools[n].Name, n)
			}
		}
	}
}

// Every density belongs to a material of the library.
func TestDensitiesHaveMaterials(t *testing.T) {
	known := 0
	for _, m := range procedures.Materials() {
		if job.MaterialOf(&m).Density > 0 {
			known++
		}
	}
	if known != 10 {
		t.Errorf("%d materials have a density", known)
	}
}

func read(t *testing.T, name, text string, o Options) Job {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	jobs, err := Read(context.Background(), path, nil, o)
	if err != nil || len(jobs) != 1 {
		t.Fatalf("%v %v", jobs, err)
	}
	return jobs[0]
}

// Two hours of waiting in ABS: two styrenic hours, one start, one change of 30 s.
func TestNeedAndRecorded(t *testing.T) {
	abs := Options{Change: 30 * time.Second}
	var err error
	if abs.Loaded, err = ParseLoaded("ABS", procedures.Materials()); err != nil {
		t.Fatal(err)
	}
	j := read(t, "a.gcode", "T0\nG4 S3570\nT1\nG4 S3600\nG1 X0 E0\n", abs)
	if n := j.Need(); n[model.Hours] != 2 || n[model.Changes] != 1 || n[model.Starts] != 1 ||
		n[model.StyrenicHours] != 2 || n[model.AbrasiveHours] != 0 {
		t.Errorf("%v", n)
	}
	if got := strings.Join(Cost(&j, Hot), "\n"); !strings.Contains(got, "counts for 2 ABS/ASA h") {
		t.Errorf("the cost says\n%s", got)
	}
	now := time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC)
	at := model.Point{At: now, Value: 150}
	m := &model.Machine{MachineFact: model.MachineFact{Name: "Heron"},
		Booked: []model.Booking{{ID: "b1", PrintJob: model.PrintJob{File: "a.gcode"}}},
		Readings: map[model.Meter]*model.Series{model.Hours: {First: at, Last: at, N: 1,
			Offset: 100}}}
	facts, skipped, err := Recorded(m, []Job{j, j}, now, 0)
	if err != nil {
		t.Fatal(err)
	}
	got := map[model.Meter]float64{}
	for _, f := range facts {
		if f.Reading != nil {
			got[f.Reading.Meter] = f.Reading.Value
		}
	}
	// the counter shows 150 − 100 = 50; two prints of two hours; styrenic hours begin at nothing
	if got[model.Hours] != 54 || got[model.StyrenicHours] != 4 || len(got) != 2 ||
		len(skipped) != 2 {
		t.Errorf("%v, skipped %v", got, skipped)
	}
	if facts[0].Printed.Booking != "b1" || facts[1].Printed.Booking != "" {
		t.Errorf("bookings %q %q", facts[0].Printed.Booking, facts[1].Printed.Booking)
	}
	if _, _, err := Recorded(m, []Job{j}, now.Add(-time.Hour), 0); err == nil ||
		!strings.Contains(err.Error(), "its use is in it already") {
		t.Errorf("%v", err)
	}
	b := read(t, "b.gcode", "G1 X1 E1\n", Options{})
	if n := b.Need(); len(n) != 3 {
		t.Errorf("without a material %v", n)
	}
}

// A print of two hours recorded now had begun when the counter was read an hour ago; what an
// earlier print added is no reading, and a counter that the print does not touch does not matter.
func TestDoubt(t *testing.T) {
	j := read(t, "a.gcode", "T0\nG4 S3600\nT1\nG4 S3600\nG1 X0 E0\n", Options{})
	now := time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC)
	for name, c := range map[string]struct {
		meter   model.Meter
		ago     time.Duration
		printed bool
		want    string
	}{
		"read while it ran": {model.Hours, time.Hour, false,
			"hours of Heron read on 2026-11-25 08:00, and the print takes 2 h 00: "},
		"read before it":              {model.Hours, 3 * time.Hour, false, ""},
		"read as it began":            {model.Hours, 2*time.Hour - time.Minute, false, ""},
		"another print was recorded":  {model.Hours, time.Hour, true, ""},
		"a counter it does not touch": {model.StyrenicHours, time.Hour, false, ""},
	} {
		t.Run(name, func(t *testing.T) {
			p := model.Point{At: now.Add(-c.ago), Value: 150}
			m := &model.Machine{MachineFact: model.MachineFact{Name: "Heron"},
				Readings: map[model.Meter]*model.Series{c.meter: {First: p, Last: p, N: 1}}}
			if c.printed {
				m.Printed = p.At
			}
			if got := Doubt(m, []Job{j}, now, 0); (got == "") != (c.want == "") ||
				!strings.HasPrefix(got, c.want) {
				t.Errorf("%q, want %q", got, c.want)
			}
		})
	}
}

func TestNamesInTheJournalAreShort(t *testing.T) {
	j := Job{Name: strings.Repeat("長い", 60) + ": plate_2.gcode"}
	name := j.fact().File
	if utf8.RuneCountInString(name) != maxName || !strings.HasSuffix(name, ": plate_2.gcode") {
		t.Errorf("%q", name)
	}
}

func TestSpan(t *testing.T) {
	for d, want := range map[time.Duration]string{0: "0 s", 89 * time.Second: "89 s",
		90 * time.Second: "2 min", 59*time.Minute + 40*time.Second: "1 h 00", 3*time.Hour +
			5*time.Minute: "3 h 05"} {
		if got := Span(d); got != want {
			t.Errorf("%v is %q, want %q", d, got, want)
		}
	}
}
