package action

import (
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"bench/oilcan/model"
)

var now = time.Date(2026, 11, 25, 9, 14, 0, 0, time.UTC)

func text(err error) string {
	if err == nil {
		return ""
	}
	return err.Error()
}

func TestTime(t *testing.T) {
	at := func(month time.Month, day, hour, minute int) time.Time {
		return time.Date(2026, month, day, hour, minute, 0, 0, time.UTC)
	}
	tests := []struct {
		text string
		want time.Time
		err  string
	}{
		{text: "now", want: now},
		{text: "Today", want: now},
		{text: "yesterday", want: at(11, 24, 12, 0)},
		{text: "yesterday 18:30", want: at(11, 24, 18, 30)},
		{text: " 3d  7:05 ", want: at(11, 22, 7, 5)},
		{text: "today 08:15", want: at(11, 25, 8, 15)},
		{text: "08:15", want: at(11, 25, 8, 15)},
		{text: "now 08:15",
			err: `"now 08:15" is no date: write today, yesterday, 3d, 2026-11-20 or "2026-11-20 14:30"`},
		{text: "yesterday 25:10",
			err: `"yesterday 25:10" is no date: write today, yesterday, 3d, 2026-11-20 or "2026-11-20 14:30"`},
		{text: "today 23:59",
			err: "today 23:59 lies in the future: give when it happened, now or before"},
		{text: "3d", want: at(11, 22, 12, 0)},
		{text: "0d", want: now},
		{text: "2026-11-25", want: now}, // noon has not come
		{text: " 2026-11-20 ", want: at(11, 20, 12, 0)},
		{text: "2026-11-20 14:30", want: at(11, 20, 14, 30)},
		{text: "2026-11-20T14:30", want: at(11, 20, 14, 30)},
		{text: "2026-11-20T14:30:00+02:00", want: at(11, 20, 12, 30)},
		{text: "2026-11-25 09:15", want: at(11, 25, 9, 15)}, // clocks differ
		{text: "2026-11-25 09:20",
			err: "2026-11-25 09:20 lies in the future: give when it happened, now or before"},
		{text: "2026-11-26",
			err: "2026-11-26 lies in the future: give when it happened, now or before"},
		{text: "2026-02-30",
			err: `"2026-02-30" is no date: write today, yesterday, 3d, 2026-11-20 or "2026-11-20 14:30"`},
		{text: "-3d",
			err: `"-3d" is no date: write today, yesterday, 3d, 2026-11-20 or "2026-11-20 14:30"`},
		{text: "",
			err: `"" is no date: write today, yesterday, 3d, 2026-11-20 or "2026-11-20 14:30"`},
	}
	for _, tt := range tests {
		t.Run(tt.text, func(t *testing.T) {
			got, err := Time(tt.text, now)
			if text(err) != tt.err || !got.Equal(tt.want) {
				t.Errorf("%v, %q; want %v, %q", got, text(err), tt.want, tt.err)
			}
		})
	}
}

func TestAheadAndSpan(t *testing.T) {
	noon := func(month time.Month, day int) time.Time {
		return time.Date(2026, month, day, 12, 0, 0, 0, time.UTC)
	}
	for word, want := range map[string]time.Time{"tomorrow": noon(11, 26), "7d": noon(12, 2),
		"2w": noon(12, 9), "2026-12-01": noon(12, 1), "2026/12/01": noon(12, 1), "1 Dec 2026": noon(
			12, 1), "2026-11-25": noon(11, 25), "0d": noon(11, 25)} {
		if got, err := Ahead(word, now); err != nil || !got.Equal(want) {
			t.Errorf("%s is %v, %v; want %v", word, got, err, want)
		}
	}
	for _, word := range []string{"", "yesterday", "2026-11-24", "-1d", "99999d", "d", "1/12/2026",
		"1.12.26"} {
		if got, err := Ahead(word, now); err == nil {
			t.Errorf("%q is taken for %v", word, got)
		}
	}
	for word, want := range map[string]time.Duration{"14d": 14 * 24 * time.Hour,
		"36h": 36 * time.Hour, "2W": 14 * 24 * time.Hour, "0d": 0} {
		if got, err := Span(word); err != nil || got != want {
			t.Errorf("%s is %v, %v; want %v", word, got, err, want)
		}
	}
	for _, word := range []string{"", "14", "-1d", "1.5d", "d", "123456d"} {
		if got, err := Span(word); err == nil {
			t.Errorf("%q is taken for %v", word, got)
		}
	}
}

// TestNumberReadTwoWays: a number that can be read two ways is asked, wherever one is typed beside
// a word.
func TestNumberReadTwoWays(t *testing.T) {
	now := time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC)
	last := model.Point{At: now.AddDate(0, 0, -30), Value: 1200}
	m := &model.Machine{Readings: map[model.Meter]*model.Series{model.Hours: {First: last,
		Last: last, N: 1}}}
	if _, err := ParseLast("blade-check=3,000", now); text(
		err) != `"3,000" can be 3000 or 3: type 3000, or 3 for the smaller one` {
		t.Errorf("a last time gives %v", err)
	}
	if l, err := ParseLast("blade-check=3 000", now); err != nil || *l.Value != 3000 {
		t.Errorf("3 000 is %v, %v", l.Value, err)
	}
	for word, want := range map[string]float64{"1,234": 1234, "1 234,5": 1234.5,
		"2026-11-20 1 210": 1210, "hours=1.234": 1234, "yesterday 1215": 1215} {
		if _, rs, err := WhenAndCount(word, m, model.Hours, now); err != nil || len(rs) != 1 ||
			rs[0].Value != want {
			t.Errorf("%q gives %v, %v; want %v", word, rs, err, want)
		}
	}
	if _, rs, err := WhenAndCount("1,234", &model.Machine{}, model.Hours, now); err == nil {
		t.Errorf("a counter that was never read takes 1,234 for %v", rs)
	}
}

func TestFind(t *testing.T) {
	list := []string{"blade", "bed cable", "hot-end unit", "sock", "sock clip"}
	for word, want := range map[string]string{"BLADE": "blade", "bl": "blade",
		"bed-cable": "bed cable", "hot": "hot-end unit", "hot-end-unit": "hot-end unit", "sock": "sock"} {
		if got, err := Find("part", word, list); err != nil || got != want {
			t.Errorf("%q is %q, %v; want %q", word, got, err, want)
		}
	}
	for word, want := range map[string]string{
		"b":     `"b" may be blade, bed cable: type more of it`,
		"so":    `"so" may be sock, sock clip: type more of it`,
		"balde": `there is no part "balde": there are blade, bed cable, hot-end unit, sock, sock clip`,
		"blde":  `there is no part "blde": did you mean blade`,
		"":      `there is no part "": there are blade, bed cable, hot-end unit, sock, sock clip`,
	} {
		if got, err := Find("part", word, list); text(err) != want {
			t.Errorf("%q gives %q, %q; want %q", word, got, text(err), want)
		}
	}
}

func TestText(t *testing.T) {
	if s, err := Text("a reason", "  wrong machine "); s != "wrong machine" || err != nil {
		t.Errorf("%q, %v", s, err)
	}
	for name, s := range map[string]string{"empty": " ", "escape": "a\x1b[2J", "line break": "a\nb",
		"broken": "a\xff", "long": strings.Repeat("ä", 501)} {
		if _, err := Text("a reason", s); err == nil {
			t.Errorf("%s is taken", name)
		}
	}
}

func TestFeatures(t *testing.T) {
	have := []model.Feature{"corexy", "camera"}
	tests := []struct {
		name, list string
		want       []model.Feature
		err        string
	}{
		{name: "whole list", list: "wiper, Changer", want: []model.Feature{"changer", "wiper"}},
		{name: "empty", list: ""},
		{name: "changes", list: "+wiper,-camera", want: []model.Feature{"corexy", "wiper"}},
		{name: "both ways", list: "wiper,-camera",
			err: `"wiper,-camera" mixes two ways: write the whole list, or only changes like +wiper,-camera`},
		{name: "unknown to add", list: "+camara",
			err: `unknown feature "camara": did you mean camera`},
		{name: "unknown to take", list: "-camara",
			err: `unknown feature "camara": did you mean camera`},
		{name: "contradiction", list: "+bedslinger",
			err: "corexy and bedslinger contradict each other: choose one, or neither if you do not know"},
		{name: "what joins lead screws brings them", list: "+z-belt",
			want: []model.Feature{"corexy", "z-screw", "z-belt", "camera"}},
		{name: "the other one", list: "-corexy,+bedslinger",
			want: []model.Feature{"bedslinger", "camera"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got, err := Features(have, tt.list)
			if text(err) != tt.err || !slices.Equal(got, tt.want) {
				t.Errorf("%v, %q; want %v, %q", got, text(err), tt.want, tt.err)
			}
		})
	}
	if !slices.Equal(have, []model.Feature{"corexy", "camera"}) {
		t.Errorf("the features it had were changed: %v", have)
	}
}

// procs is a library of two procedures of one part, a swap, and one that counts nothing.
func procs() []*model.Procedure {
	return []*model.Procedure{
		{ID: "blade-check", Title: "Check the blade", Kind: model.Care, Part: "blade",
			Needs: []model.Feature{"cutter"}, CountsAs: []string{"blade-look"},
			Intervals: []model.Interval{{Meter: model.Cuts, Low: 3000, High: 5000}},
			Settings: []model.Setting{{Name: "screws", Number: true, Ask: "How many?"},
				{Name: "arm", Options: []string{"left", "right"}}}},
		{ID: "blade-look", Kind: model.Look, Part: "blade", Needs: []model.Feature{"cutter"},
			Intervals: []model.Interval{{Meter: model.Days, Low: 30, High: 38}}},
		{ID: "filter-swap", Kind: model.Swap, Part: "filter",
			Intervals: []model.Interval{{Meter: model.Days, Low: 90, High: 113}}},
		{ID: "square", Title: "Square the frame", Kind: model.Care},
	}
}

func TestSwap(t *testing.T) {
	m := &model.Machine{MachineFact: model.MachineFact{Name: "Grey Heron",
		Features: []model.Feature{"cutter"}}}
	s, err := Swap(m, procs(), "blade", "worn")
	want := []model.Fact{
		{Kind: model.KindSwap, Swap: &model.Swapped{Part: "blade", End: "worn",
			Resets: []string{"blade-check", "blade-look"}}},
		{Kind: model.KindStock, Stock: &model.StockMove{Part: "blade", Change: -1, Why: "used"}},
	}
	if err != nil || !reflect.DeepEqual(s.Facts, want) {
		t.Errorf("%+v, %v", s.Facts, err)
	}
	if s, err := Swap(m, procs(), "belt", ""); err != nil || s.Facts[0].Swap.End != "unknown" ||
		len(s.Resets) != 0 {
		t.Errorf("a part without a procedure gives %+v, %v", s, err)
	}
	m.Features = nil
	_, err = Swap(m, procs(), "blade", "")
	if want := `Grey Heron has no blade, by its features: is it the right machine? If it is, say oilcan machine edit 'Grey Heron' --features +cutter`; text(err) != want {
		t.Errorf("error %q, want %q", text(err), want)
	}
}

func TestDone(t *testing.T) {
	m := &model.Machine{MachineFact: model.MachineFact{Name: "Heron",
		Features: []model.Feature{"cutter"}}}
	p := procs()
	facts, err := Done(m, p, p[0])
	if err != nil || len(facts) != 1 ||
		!slices.Equal(facts[0].Care.CountsAs, []string{"blade-look"}) {
		t.Errorf("%+v, %v", facts, err)
	}
	facts, err = Done(m, p, p[2])
	if err != nil || len(facts) != 3 || facts[1].Swap == nil || facts[2].Stock.Change != -1 {
		t.Errorf("what renews its part gives %+v, %v", facts, err)
	}
	m.Features = nil
	if _, err := Done(m, p,
		p[0]); text(err) != `"Check the blade" needs cutter, which Heron does not have: is it the right machine?` {
		t.Errorf("error %q", text(err))
	}
}

func TestLast(t *testing.T) {
	f := model.MachineFact{Name: "Heron", Features: []model.Feature{"cutter"}}
	tests := []struct {
		text string
		base map[model.Meter]float64
		out  model.CareOutcome
		err  string
	}{
		{text: "blade-check=2026-10-20", out: "done"},
		{text: "blade-check=3 000", out: "done",
			base: map[model.Meter]float64{model.Changes: 3000}},
		{text: "blade-c=unknown", out: "unknown"},
		{text: "square=12",
			err: `"Square the frame" counts no meter: give the day it was last done, or unknown`},
		{text: "nothing=2026-10-20",
			err: `there is no procedure "nothing": oilcan procedures list names them all`},
		{text: "square",
			err: `"square" does not say when care was last done: write rods-wipe=2026-10-20, blade-check=3000 or gears-blow=unknown`},
		{text: "square=soon",
			err: `"soon" is no date: write today, yesterday, 3d, 2026-11-20 or "2026-11-20 14:30"`},
		{text: "square=2027-01-01",
			err: "2027-01-01 lies in the future: give when it happened, now or before"},
	}
	for _, tt := range tests {
		t.Run(tt.text, func(t *testing.T) {
			l, err := ParseLast(tt.text, now)
			var facts []model.Fact
			if err == nil {
				facts, err = l.Facts(procs(), f)
			}
			if text(err) != tt.err {
				t.Fatalf("error %q, want %q", text(err), tt.err)
			}
			if err == nil && (facts[0].Care.Outcome != tt.out ||
				!reflect.DeepEqual(facts[0].Care.Base, tt.base)) {
				t.Errorf("%+v", facts[0].Care)
			}
		})
	}
}

// TestLastFolds tells care at a counter's value and folds it: what is used counts from there, also
// after the next reading.
func TestLastFolds(t *testing.T) {
	f := model.MachineFact{ID: "m", Name: "Heron", Features: []model.Feature{"cutter"}}
	l, err := ParseLast("blade-check=3000", now)
	if err != nil {
		t.Fatal(err)
	}
	told, err := l.Facts(procs(), f)
	if err != nil {
		t.Fatal(err)
	}
	reading := func(v float64) model.Fact {
		return model.Fact{Kind: model.KindReading, Reading: &model.Reading{Meter: model.Changes,
			Value: v}}
	}
	entry := func(seq uint64, at time.Time, fact model.Fact) model.Entry {
		return model.Entry{Seq: seq, At: at, Machine: "m", Action: string(rune('a' + seq)),
			Fact: fact}
	}
	b := model.Fold([]model.Entry{
		entry(1, now, model.Fact{Kind: model.KindMachine, Machine: &f}),
		entry(2, now, reading(3400)),
		entry(3, now, told[0]), entry(4, now.Add(24*time.Hour), reading(3500)),
	})
	gs := model.Gauges(b.Machines["m"], procs()[:1], now.Add(25*time.Hour))
	if len(gs) != 1 || gs[0].Used != 500 {
		t.Errorf("%+v, want 500 used", gs)
	}
}

func TestBand(t *testing.T) {
	f := model.MachineFact{Name: "Heron", Features: []model.Feature{"cutter"}}
	tests := []struct {
		text string
		want model.Band
		ok   bool
		err  string
	}{
		{text: "blade-c=2,000-3500", want: model.Band{Low: 2000, High: 3500}, ok: true},
		{text: "blade-check=2000–3500", want: model.Band{Low: 2000, High: 3500}, ok: true},
		{text: "blade-check=2000", want: model.Band{Low: 2000, High: 2500}, ok: true},
		{text: "blade-check="},
		{text: "blade-check=0-10",
			err: `"blade-check=0-10" is no band: the low end comes first and is above nothing`},
		{text: "blade-check=20-10",
			err: `"blade-check=20-10" is no band: the low end comes first and is above nothing`},
		{text: "blade-check=a-b",
			err: `"blade-check=a-b" is no band: write blade-check=2000-3500, or blade-check= to give the file's band back`},
		{text: "square=1-2",
			err: `"Square the frame" has no interval on Heron: a band would never count`},
		{text: "blade-check",
			err: `"blade-check" is no band: write blade-check=2000-3500, or blade-check= to give the file's band back`},
	}
	for _, tt := range tests {
		t.Run(tt.text, func(t *testing.T) {
			_, got, ok, err := Band(procs(), f, tt.text)
			if text(err) != tt.err || ok != tt.ok || got != tt.want && err == nil {
				t.Errorf("%v, %v, %q; want %v, %v, %q", got, ok, text(err), tt.want, tt.ok, tt.err)
			}
		})
	}
}

func TestSetting(t *testing.T) {
	for _, tt := range []struct{ text, name, value, err string }{
		{"screws=4", "screws", "4", ""},
		{"arm=left", "arm", "left", ""},
		{"scr=4", "screws", "4", ""},
		{"screws=", "screws", "", ""},
		{"plug-tag=H 1", "plug-tag", "H 1", ""},
		{"screws=four", "screws", "four",
			`screws cannot be "four": type a whole number: How many?`},
		{"arm=up", "arm", "up", `arm cannot be "up": choose one of left, right`},
		{"colour=red", "", "", `there is no setting "colour": there are arm, change-time, filament-size, ` +
			`jerk, junction-deviation, nozzle-bore, screws, start-time, top-accel, top-accel-z, ` +
			`top-speed, top-speed-z, plug-tag`},
		{"nozzle-bore=0,6", "nozzle-bore", "0.6", ""},
		{"change-time=-3", "change-time", "-3",
			`change-time cannot be "-3": -3 is below nothing: counts and meters only grow ` +
				`from 0: What a change by the changer takes, in seconds.`},
		{"screws", "", "", `"screws" is no setting: write name=value, like clamp-screws=4`},
		{"plug-tag=\x1b[2J", "", "",
			"the setting plug-tag holds characters that cannot be shown: use letters, digits and spaces"},
	} {
		name, value, err := Setting(procs(), tt.text)
		if text(err) != tt.err || name != tt.name || value != tt.value {
			t.Errorf("%q gives %q, %q, %q", tt.text, name, value, text(err))
		}
	}
}

func TestReadings(t *testing.T) {
	m := &model.Machine{Readings: map[model.Meter]*model.Series{
		model.Hours: {First: model.Point{At: now.AddDate(0, 0, -1), Value: 100},
			Last: model.Point{At: now.AddDate(0, 0, -1), Value: 100}, N: 1},
	}}
	if _, err := Readings(m, []model.Reading{{Meter: model.Hours, Value: 110},
		{Meter: model.Changes, Value: 5}}, now, now); err != nil {
		t.Error(err)
	}
	if _, err := Readings(m, []model.Reading{{Meter: model.Hours, Value: 90}}, now,
		now); err == nil {
		t.Error("a counter that falls is taken")
	}
	if _, err := Readings(m, []model.Reading{{Meter: model.Hours, Value: 90, Correct: true}}, now,
		now); err != nil {
		t.Error(err)
	}
	if facts, err := Readings(m, []model.Reading{{Meter: model.Changes, Value: 5},
		{Meter: model.Cuts, Value: 5}}, now, now); err == nil || facts != nil {
		t.Errorf("cuts are taken: %v", facts)
	}
}

// An old part that was not found is a finding on the bench: a loose blade in a machine is not only
// a figure of its life. It waits for no part: the new one is in.
func TestALostPartIsAFinding(t *testing.T) {
	m := &model.Machine{MachineFact: model.MachineFact{Name: "Heron",
		Features: []model.Feature{"cutter"}}}
	for end, want := range map[model.End]bool{model.EndLost: true, model.EndWorn: false,
		"": false} {
		s, err := Swap(m, nil, "blade", end)
		if err != nil {
			t.Fatal(err)
		}
		found := false
		for _, f := range s.Facts {
			found = found || f.Finding != nil && f.Finding.Kind == model.FoundLost &&
				strings.Contains(f.Finding.Text, "old blade") && f.Finding.Text == s.Look
			if f.Finding != nil && f.Finding.Part != "" {
				t.Errorf("%q: it waits for %s", end, f.Finding.Part)
			}
		}
		if found != want {
			t.Errorf("%q: a finding %v, want %v", end, found, want)
		}
	}
}
