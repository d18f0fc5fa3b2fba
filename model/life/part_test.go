package life

import (
	"math"
	"testing"
	"time"

	"bench/oilcan/model"
)

// The worked example of a standard text, Abernethy, The New Weibull Handbook, chapter 2 (from
// memory): five failures and three suspensions, with adjusted ranks 1.125, 2.438, 3.750, 5.063 and
// 6.375 and median ranks 9.8, 25.5, 41.1, 56.7 and 72.3 %.
func TestRanks(t *testing.T) {
	lives := []Observed{{10, true}, {30, false}, {45, true}, {49, false}, {82, false}, {90, false},
		{96, false}, {100, true}}
	want := []float64{1.125, 2.4375, 3.75, 5.0625, 6.375}
	got := Ranks(lives)
	if len(got) != len(want) {
		t.Fatalf("%+v", got)
	}
	for i, r := range got {
		if share := (want[i] - 0.3) / 8.4; math.Abs(r.Share-share) > 1e-9 {
			t.Errorf("%v: %.4f, want %.4f", r.Used, r.Share, share)
		}
	}
	if got := Ranks(nil); got != nil {
		t.Errorf("nothing gives %v", got)
	}
}

func TestBandOf(t *testing.T) {
	look := &model.Procedure{ID: "blade-look", Kind: model.Look, Part: "blade",
		Intervals: []model.Interval{{Meter: model.Days, Low: 30, High: 38}}}
	days := &model.Procedure{ID: "filter", Kind: model.Swap, Part: "filter",
		Intervals: []model.Interval{
			{Meter: model.StyrenicHours, Low: 40, High: 50,
				When: &model.When{Meter: model.StyrenicHours, Share: 0.5}},
			{Meter: model.Days, Low: 90, High: 113, Basis: "from memory",
				Production: &model.Band{Low: 30, High: 38, Basis: "common practice"}}}}
	wiper := &model.Procedure{ID: "wiper", Kind: model.Swap, Part: "wiper",
		Intervals: []model.Interval{
			{Meter: model.Days, Low: 60, High: 75, Basis: "from memory",
				Production: &model.Band{Low: 20, High: 25}}}}
	procs := []*model.Procedure{look, blade(), days, wiper}
	m := &model.Machine{MachineFact: model.MachineFact{Duty: model.Production}}
	for _, c := range []struct {
		part  string
		bands map[string]model.Band
		want  PartBand
		ok    bool
	}{
		{"blade", nil, PartBand{model.Band{Low: 3000, High: 5000, Basis: "common practice"},
			model.Cuts}, true},
		{"blade", map[string]model.Band{"blade": {Low: 2000, High: 2500}},
			PartBand{model.Band{Low: 2000, High: 2500, Basis: "own record"}, model.Cuts}, true},
		{"filter", nil, PartBand{model.Band{Low: 30, High: 38, Basis: "common practice"},
			model.Days}, true},
		{"wiper", nil, PartBand{model.Band{Low: 20, High: 25, Basis: "from memory"}, model.Days},
			true},
		{"chute", nil, PartBand{}, false},
	} {
		m.Bands = c.bands
		if got, ok := BandOf(m, procs, c.part); got != c.want || ok != c.ok {
			t.Errorf("%s %v: %+v, %v", c.part, c.bands, got, ok)
		}
	}
}

// After three lives that ended well before the rule of thumb the part is said to be short-lived,
// and not any more once the machine has its own band.
func TestShortOn(t *testing.T) {
	m := &model.Machine{Parts: map[string]*model.PartNow{"blade": {}}}
	life := func(n int, used float64, end model.End) model.Life {
		return model.Life{From: dayAt(float64(n)), To: dayAt(float64(n + 20)), End: end,
			Used: map[model.Meter]float64{model.Changes: used}}
	}
	now := []time.Time{dayAt(60)}
	for _, c := range []struct {
		name  string
		lives []model.Life
		band  float64
		want  int
	}{
		{"two", []model.Life{life(0, 1200, "worn"), life(20, 1300, "worn")}, 0, 0},
		{"three", []model.Life{life(0, 1200, "worn"), life(20, 1300, "failed"),
			life(40, 1500, "worn")}, 0, 1},
		{"taken off sound", []model.Life{life(0, 1200, "early"), life(20, 1300, "early"),
			life(40, 1500, "early")}, 0, 0},
		{"own band", []model.Life{life(0, 1200, "worn"), life(20, 1300, "failed"),
			life(40, 1500, "worn")}, 1400, 0},
	} {
		m.Parts["blade"].Lives, m.Bands = c.lives, nil
		if c.band > 0 {
			m.Bands = map[string]model.Band{"blade": {Low: c.band, High: c.band}}
		}
		got := ShortOn(m, []*model.Procedure{blade()})
		if len(got) != c.want || c.want == 1 && !got[0].At.Equal(now[0]) {
			t.Errorf("%s: %+v", c.name, got)
		}
	}
}
