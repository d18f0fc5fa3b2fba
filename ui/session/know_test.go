package session

import (
	"slices"
	"strings"
	"testing"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/model/life"
	"bench/oilcan/procedures"
)

// kept is a machine newly added with 1,200 hours on it, of which nothing else is known.
func kept(lib *procedures.Library, features ...model.Feature) *model.Machine {
	at := time.Date(2026, 11, 20, 12, 0, 0, 0, time.UTC)
	f := model.MachineFact{ID: "m", Name: "Heron", Duty: model.Home, Features: features}
	f.CareList = model.StarterList(lib.All(), model.NewFeatureSet(features...))
	read := func(seq uint64, m model.Meter, v float64) model.Entry {
		return model.Entry{Seq: seq, ID: string(rune('a' + seq)), At: at, Machine: "m", Action: "x",
			Fact: model.Fact{Kind: model.KindReading, Reading: &model.Reading{Meter: m, Value: v}}}
	}
	return model.Fold([]model.Entry{
		{Seq: 1, ID: "a", At: at, Action: "x",
			Fact: model.Fact{Kind: model.KindMachine, Machine: &f}},
		read(2, model.Hours, 1200), read(3, model.Changes, 3400),
	}).Machines["m"]
}

// The first session of a machine with 1,200 hours takes 45 minutes of hands at most, renews
// nothing, and holds what guards a person; session by session all is known.
func TestGettingToKnowAMachine(t *testing.T) {
	lib := procedures.Open("")
	d := Desk{Lib: lib}
	now := time.Date(2026, 11, 20, 13, 0, 0, 0, time.UTC)
	for name, features := range map[string][]model.Feature{
		"full":  model.FullFeatures,
		"rails": {"open-frame", "bedslinger", "rails", "bed-cable", "probe", "direct-drive"},
		"bare":  {"open-frame", "rollers", "knobs"},
	} {
		m := kept(lib, features...)
		said := UntilKnown(life.Gauges(m, lib.Heads(), now))
		for session := 1; ; session++ {
			gauges := life.Gauges(m, lib.Heads(), now)
			if UntilKnown(gauges) == 0 {
				if session-1 > said+1 {
					t.Errorf("%s: %d sessions, said about %d", name, session-1, said)
				}
				break
			}
			c, err := d.Choose(m, Choice{}, now)
			if err != nil || len(c.IDs) == 0 || session > 6 {
				t.Fatalf("%s, session %d: %v, %q", name, session, err, c.IDs)
			}
			if c.Plan.HandsOn > KnowHands {
				t.Errorf("%s, session %d: %v min of hands", name, session, c.Plan.HandsOn)
			}
			if session == 1 && !slices.Contains(c.IDs, "electrical-glance") {
				t.Errorf("%s: the first session leaves out what guards a person: %q", name, c.IDs)
			}
			looked := len(unknown(gauges)) > 0 && unknown(gauges)[0].Kind != model.Swap
			for _, id := range c.Plan.IDs() {
				if looked && lib.Get(id).Kind == model.Swap {
					t.Errorf("%s, session %d renews: %s", name, session, id)
				}
				m.Care[id] = &model.CareLast{At: now, Known: true,
					Base: map[model.Meter]float64{model.Hours: 1200, model.Changes: 3400}}
			}
		}
	}
}

// With more minutes a session lowers the risk no less; nothing is renewed because nobody knows;
// what guards a person is in as soon as it goes; and what is named is in whatever it takes.
func TestMinutes(t *testing.T) {
	lib := procedures.Open("")
	d := Desk{Lib: lib}
	now := time.Date(2026, 11, 20, 13, 0, 0, 0, time.UTC)
	for name, list := range map[string]bool{"starter": false, "all": true} {
		m := kept(lib, model.FullFeatures...)
		if list {
			m.CareList = nil
		}
		guarded, gained := false, 0.0
		for minutes := 5.0; minutes <= 150; minutes += 7.5 {
			c, err := d.Choose(m, Choice{Minutes: minutes}, now)
			if err != nil {
				t.Fatal(err)
			}
			guards := slices.ContainsFunc(c.IDs, model.GuardsPerson)
			if c.Minutes != minutes || c.Plan.Minutes() > minutes || guarded && !guards || guards == guarded &&
				c.Plan.Fit.Gained < gained-0.001 {
				t.Errorf("%s: %v min buy %.2f in %v, less buy %.2f: %q", name, minutes,
					c.Plan.Fit.Gained, c.Plan.Minutes(), gained, c.IDs)
			}
			guarded, gained = guards, c.Plan.Fit.Gained
			for _, id := range c.Plan.IDs() {
				if lib.Get(id).Kind == model.Swap {
					t.Errorf("%s, %v min renew what nobody knows: %s", name, minutes, id)
				}
			}
		}
	}
	c, err := d.Choose(kept(lib, model.FullFeatures...),
		Choice{Minutes: 20, With: []string{"screws-oil"},
			Without: []string{"estop-check-look"}}, now)
	if err != nil || !slices.Contains(c.IDs, "screws-oil") ||
		slices.Contains(c.IDs, "estop-check-look") || !c.Plan.Fit.Over {
		t.Errorf("%v, %q, %+v", err, c.IDs, c.Plan.Fit)
	}
}

// TestWhatFollowsIsSaid: a session whose care makes a check due at once says so, unless it is in.
func TestWhatFollowsIsSaid(t *testing.T) {
	lib := procedures.Open("")
	now := time.Date(2026, 11, 20, 13, 0, 0, 0, time.UTC)
	d := Desk{Lib: lib}
	for _, c := range []struct {
		ids  []string
		want string
	}{
		{[]string{"pulley-screws"}, "motion check"},
		{[]string{"pulley-screws", "self-check"}, ""},
		{[]string{"camera-clean"}, ""},
	} {
		chosen, err := d.Choose(kept(lib, model.FullFeatures...), Choice{Only: c.ids}, now)
		if err != nil {
			t.Fatal(err)
		}
		if text := chosen.FollowsText(); !strings.Contains(text, c.want) ||
			(c.want == "") != (text == "") {
			t.Errorf("%v: %q, want %q", c.ids, text, c.want)
		}
	}
}

// A renewal that nobody knows the last time of is told by its look: that is worth both.
func TestALookIsWorthItsRenewal(t *testing.T) {
	lib := procedures.Open("")
	now := time.Date(2026, 11, 20, 13, 0, 0, 0, time.UTC)
	f := life.NewForecaster(kept(lib, model.FullFeatures...), now)
	gs := f.Gauges(lib.Heads())
	n := 0
	for _, g := range gains(f, gs, []string{"blade-check-look", "wiper-check-look", "rods-wipe"}) {
		if slices.Contains(g.Done, "blade-check") && slices.Contains(g.Done, "blade-check-look") {
			n++
		}
	}
	if n != 1 {
		t.Errorf("the blade's renewal is counted %d times", n)
	}
}

// BenchmarkMinutes is oilcan plan --minutes 30 of a machine with everything that nobody knows
// anything of, without the reading of files.
//
// Measured on two shared cores (Go 1.26, 2026-11-25), other work running: plan --minutes 30 of a
// full machine nobody knows anything of, 19 candidates: 5 ms.
func BenchmarkMinutes(b *testing.B) {
	lib := procedures.Open("")
	d := Desk{Lib: lib}
	now := time.Date(2026, 11, 20, 13, 0, 0, 0, time.UTC)
	m := kept(lib, model.FullFeatures...)
	for b.Loop() {
		if _, err := d.Choose(m, Choice{Minutes: 30}, now); err != nil {
			b.Fatal(err)
		}
	}
}
