package life

import (
	"reflect"
	"strings"
	"testing"
	"time"

	"bench/oilcan/model"
)

var bladeBand = model.Band{Low: 3000, High: 5000, Basis: "common practice"}

func swap(t *testing.T, ty *typed, day float64, end model.End) {
	t.Helper()
	ty.fold(t, model.Entry{At: dayAt(day),
		Fact: model.Fact{Kind: model.KindSwap, Swap: &model.Swapped{Part: "blade", End: end}}})
}

func TestObserve(t *testing.T) {
	ty := newTyped(t, model.Home)
	for d := range 101 {
		ty.read(t, model.Changes, float64(d), 90*float64(d))
		ty.read(t, model.Starts, float64(d), 10*float64(d))
		if end := map[int]model.End{10: "unknown", 30: "worn", 45: "early", 60: "failed",
			80: "lost"}[d]; end != "" {
			swap(t, ty, float64(d), end)
		}
	}
	ms := []*model.Machine{ty.machine(), {}}
	// the last is in now
	want := []Observed{{2000, false}, {1500, true}, {1500, false}, {2000, true}, {2000, true}}
	if got := Observe(ms, "blade", model.Cuts, dayAt(101)); !reflect.DeepEqual(got, want) {
		t.Errorf("cuts: %v", got)
	}
	for i := range want {
		want[i].Used /= 100
	}
	want[4].Used = 21
	if got := Observe(ms, "blade", model.Days, dayAt(101)); !reflect.DeepEqual(got, want) {
		t.Errorf("days: %v", got)
	}
	if got := Observe(ms, "blade", model.StyrenicHours, dayAt(101)); got != nil {
		t.Errorf("a meter never read: %v", got)
	}
	if got := Observe(ms, "wiper", model.Cuts, dayAt(101)); got != nil {
		t.Errorf("a part never swapped: %v", got)
	}
}

func TestLifetimeByRuleAndOwn(t *testing.T) {
	own := func(n int, at float64) (out []Observed) {
		for i := range n {
			out = append(out, Observed{Used: at * (0.8 + 0.1*float64(i))})
		}
		return out
	}
	cases := []struct {
		name   string
		lives  []Observed
		by     Ground
		median [2]float64
		says   string
	}{
		{"none", nil, "rule of thumb", [2]float64{3800, 4000}, "no part has come to its end yet"},
		{"sound ones that lasted long", lives(nil, map[float64]int{6000: 3}),
			"rule of thumb and own lives", [2]float64{4500, 12000},
			"no part has come to its end yet"},
		{"two that did not last", own(2, 1500), "rule of thumb and own lives",
			[2]float64{1250, 1800}, "the two together: median life"},
		{"seven of its own", own(7, 1500), "own lives, rule of thumb beside them",
			[2]float64{1450, 1750}, "they wear out"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			l := NewLifetime(c.lives, bladeBand)
			if m := l.Life.Life(0.5); l.By != c.by || m < c.median[0]*(1-1e-9) ||
				m > c.median[1]*(1+1e-9) {
				t.Errorf("by %s: the median is %v", l.By, m)
			}
			if w := l.Words("cuts"); !strings.HasPrefix(w,
				"rule of thumb 3 000–5 000 cuts (common practice); own ") ||
				!strings.Contains(w, c.says) {
				t.Errorf("%q does not say %q", w, c.says)
			}
		})
	}
}

// The fans of Nelson do not show wear-out, the bearings do; young failures are named.
func TestLifeInWords(t *testing.T) {
	for want, ls := range map[string][]Observed{
		"12 ends and 58 taken off sound: median life 18 600 h, one in ten less than 3 137; wear-out is not shown: they may as well fail by chance (shape 1.1, 0.5 to 1.6)": fans,
		"23 ends: median life 69 h, one in ten less than 28; they wear out (shape 2.1, 1.4 to 2.7)":                                                                        bearings,
		"wear-out is not shown: the young ones fail most":                                                                                                                  lives([]float64{1, 2, 3, 8, 30, 200, 900, 1, 4, 2}, nil),
	} {
		f, err := FitWeibull(ls)
		if got := f.Words("h"); err != nil || !strings.Contains(got, want) {
			t.Errorf("%q\nwant %q", got, want)
		}
	}
}

func TestShortLived(t *testing.T) {
	of := func(ends string, used ...float64) (out []model.Life) {
		for i, u := range used {
			out = append(out, model.Life{From: simStart, To: simStart.Add(time.Hour),
				End: model.End(strings.Fields(
					ends)[i]), Used: map[model.Meter]float64{model.Changes: u}})
		}
		return out
	}
	cases := []struct {
		name  string
		lives []model.Life
		short bool
	}{
		{"none", nil, false},
		{"two are too few", of("worn worn", 900, 900), false},
		{"three below 60 %", of("worn failed worn", 1700, 1500, 2900), true},
		{"the median at 60 %", of("worn worn worn", 1500, 1800, 1900), false},
		{"sound ones do not count", of("worn early worn lost", 900, 900, 900, 900), false},
		{"four: the middle of the two", of("worn worn worn worn", 1000, 1700, 1850, 3000), true},
		{"the cause was put right: only the last five count",
			of("worn worn worn worn worn worn worn", 900, 900, 900, 900, 3100, 3200, 3300), false},
		{"use not known", append(of("worn worn", 900, 900), model.Life{End: "worn"}), false},
	}
	for _, c := range cases {
		s, _, _ := shortLived(c.lives, "blade", model.Cuts, bladeBand)
		if c.short != (s != "") {
			t.Errorf("%s: %q", c.name, s)
		}
	}
	want := "blade short-lived: of the last 3 ends half came before 1 700 cuts, against a rule of thumb from 3 000; " +
		"look for a cause (filled material, chips not cleared, wrong counter) before shortening the interval"
	if s, _, _ := shortLived(cases[2].lives, "blade", model.Cuts, bladeBand); s != want {
		t.Errorf("%q", s)
	}
}
