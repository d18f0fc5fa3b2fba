package plan

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"bench/oilcan/model"
	"bench/oilcan/store/storetest"
)

// The choice is a knapsack whose items share what they need (Kellerer, Pferschy and Pisinger 2004,
// Knapsack Problems: dynamic programming with lists 3.4, the bound of Dantzig 2.2; shared needs as
// in the set-union knapsack, 13).

// some reads a session's ids.
func some(s string) []string { return strings.Fields(s) }

// alike makes one gain of the same chance for each id.
func alike(chance float64, ids ...string) []Gain {
	var out []Gain
	for _, id := range ids {
		out = append(out, Gain{Done: []string{id}, Chance: chance})
	}
	return out
}

func TestFitTime(t *testing.T) {
	get := library(bench())
	cases := []struct {
		name    string
		must    string
		may     string
		gains   []Gain
		minutes float64
		hands   bool
		want    string
	}{
		{"nothing fits", "", "belts-reset desiccant-look",
			alike(0.5, "belts-reset", "desiccant-look"), 0.5, false, ""},
		{"the long one is passed over", "", "belts-reset desiccant-look",
			alike(0.5, "belts-reset", "desiccant-look"), 5, false, "desiccant-look"},
		{"a long one does not shut out many", "",
			"first-layer fans-blow gears-blow-look blade-check-look sock-check-look camera-clean desiccant-look",
			alike(0.5, "first-layer", "fans-blow", "gears-blow-look", "blade-check-look",
				"sock-check-look", "camera-clean", "desiccant-look"), 45, false,
			"fans-blow gears-blow-look blade-check-look sock-check-look camera-clean desiccant-look"},
		{"what guards a person goes before many", "",
			"electrical-look fans-blow gears-blow-look blade-check-look",
			append(alike(1, "fans-blow", "gears-blow-look", "blade-check-look"),
				Gain{Done: some("electrical-look"), Chance: 0.1, Guards: true}), 30, false,
			"electrical-look"},
		{"all of it", "", "fans-blow belts-reset desiccant-look", nil, 400, false,
			"fans-blow belts-reset desiccant-look"},
		{"what must be in is in", "belts-reset", "desiccant-look fans-blow",
			alike(1, "desiccant-look", "fans-blow"), 5, false, "belts-reset"},
		{"hands alone: waiting is free", "", "first-layer", alike(1, "first-layer"), 20, true,
			"first-layer"},
		{"the same with waiting", "", "first-layer", alike(1, "first-layer"), 20, false, ""},
		{"a look that the whole does too counts once", "", "blade-check blade-check-look",
			alike(0.5, "blade-check", "blade-check-look"), 400, false,
			"blade-check blade-check-look"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			time := Time{Minutes: c.minutes, Hands: c.hands, Must: some(c.must), May: some(c.may),
				Gains: c.gains}
			p, err := FitTime(get, full(), nil, time, Request{SetUps: setUps()})
			if err != nil {
				t.Fatal(err)
			}
			if got := strings.Join(p.Fit.Kept, " "); got != c.want {
				t.Errorf("kept %s, want %s; %v + %v min: %s", got, c.want, p.HandsOn, p.Waiting,
					sequence(p))
			}
			if c.must == "" && measured(p, c.hands) > c.minutes {
				t.Errorf("%v + %v min do not fit %v", p.HandsOn, p.Waiting, c.minutes)
			}
		})
	}
	for _, bad := range []Time{{Must: some("wings")}, {May: some("wings")}, {May: some("heat")}} {
		if _, err := FitTime(library(setUps()), full(), nil, bad,
			Request{SetUps: setUps()}); err == nil {
			t.Errorf("%+v is taken", bad)
		}
	}
}

// What leaves the machine in some state is best done where it stands in another: a print that ends
// cold saves the cooling down, where it is not made before the machine was heated. And work that
// leaves something behind asks for no set-up action by that alone.
func TestFitTimeByWhatIsLeftBehind(t *testing.T) {
	cold := leaving(care("print", "hot", 0, 0, "", ""), "H=cold")
	head := after(care("head", "hot", 0, 2, "P=unpl F=unloaded", ""), "print", "ohms")
	for _, c := range []struct {
		name    string
		list    []*model.Procedure
		start   string
		minutes float64
	}{
		{"what ends cold after the heat",
			[]*model.Procedure{care("ohms", "stone-cold", 1.25, 2, "", ""), cold, head}, "", 15.75},
		{"nothing but work, which leaves something",
			[]*model.Procedure{leaving(care("thread", "off-machine", 1, 0, "", ""), "F=loaded")},
			"P=off F=unloaded", 1},
		{"one leaves what the other asks for",
			[]*model.Procedure{leaving(care("thread", "off-machine", 1, 0, "", ""), "F=unloaded"),
				care("tip", "off-machine", 1, 0, "P=off F=unloaded", "")}, "P=off F=loaded", 2},
	} {
		t.Run(c.name, func(t *testing.T) {
			time := Time{Minutes: c.minutes}
			for _, p := range c.list {
				time.May = append(time.May, p.ID)
			}
			fs := model.NewFeatureSet("open-frame", "bedslinger", "rods-steel", "bush-ball")
			p, err := FitTime(library(c.list), fs, nil, time,
				Request{SetUps: setUps(), Start: state(c.start)})
			if err != nil {
				t.Fatal(err)
			}
			if !slices.Equal(p.Fit.Kept, time.May) || p.Minutes() != c.minutes || !p.Fit.Optimal {
				t.Errorf("kept %v of %v in %v of %v min, optimal %t: %s", p.Fit.Kept, time.May,
					p.Minutes(), c.minutes, p.Fit.Optimal, sequence(p))
			}
		})
	}
}

// worth of a choice as the test reckons it: what guards, all, how many, in how many minutes.
type worth struct {
	guards, all int
	count       int
	minutes     float64
}

func (w worth) compare(x worth) int {
	for _, d := range []float64{float64(w.guards - x.guards), float64(w.all - x.all),
		float64(w.count - x.count), x.minutes - w.minutes} {
		if d != 0 {
			return int(max(-1, min(1, d*4)))
		}
	}
	return 0
}

// reckon gives what is done in a session of some ids is worth; ok is false where no order does it
// all.
func reckon(get func(string) *model.Procedure, time Time, ids []string, r Request) (w worth,
	ok bool) {
	procs, err := r.gather(get, r.Features, ids)
	if err != nil {
		return w, false
	}
	shortest := func(procs []*model.Procedure) (v value, ok bool) {
		r.Procedures = procs
		v, left, ok := bruteBy(r, true)
		return v, ok && !left
	}
	v, ok := shortest(procs)
	if ok && slices.ContainsFunc(procs, func(p *model.Procedure) bool {
		return p.Kind == model.Proof
	}) || slices.Contains(v.ids, " unplug") {
		for _, id := range r.bookends() {
			if q := get(id); q != nil && !slices.Contains(procs, q) {
				procs = append(procs, q)
			}
		}
		v, ok = shortest(procs)
	}
	if !ok {
		return w, false
	}
	done := map[string]bool{}
	for _, p := range procs {
		done[p.ID] = true
		for _, id := range p.CountsAs {
			done[id] = true
		}
	}
	for _, g := range time.Gains {
		if slices.ContainsFunc(g.Done, func(id string) bool { return done[id] }) {
			if g.Guards {
				w.guards += int(g.Chance * 100)
			} else {
				w.all += int(g.Chance * 100)
			}
		}
	}
	for _, id := range time.May {
		if done[id] {
			w.count++
		}
	}
	w.minutes = v.cost
	return w, true
}

// remembered reckons each session once.
func remembered(get func(string) *model.Procedure, time Time, r Request) func(ids []string) (worth,
	bool) {
	type known struct {
		w  worth
		ok bool
	}
	memo := map[string]known{}
	return func(ids []string) (worth, bool) {
		key := fmt.Sprint(ids)
		if procs, err := r.gather(get, r.Features, ids); err == nil {
			key = ""
			for _, p := range procs {
				key += p.ID + " "
			}
		}
		if _, ok := memo[key]; !ok {
			w, ok := reckon(get, time, ids, r)
			memo[key] = known{w, ok}
		}
		return memo[key].w, memo[key].ok
	}
}

// randomTime draws a small choice.
func randomTime(t *rapid.T) (func(string) *model.Procedure, Time, Request) {
	r := randomRequest(t)
	list := r.Procedures[:min(4, len(r.Procedures))]
	// is left by itself, not what it belongs to
	stone := func(p *model.Procedure) bool { return p.Rung[0].Is == "stone-cold" }
	r.Procedures = nil
	for i, p := range list {
		p.HandsOn = float64(rapid.IntRange(0, 24).Draw(t, "hands")) / 4
		p.Waiting = float64(rapid.IntRange(0, 3).Draw(t, "waiting"))
		for j, q := range list {
			switch {
			case j >= i || stone(p) || stone(q):
			case rapid.IntRange(0, 7).Draw(t, "counts") == 0:
				p.CountsAs = append(p.CountsAs, q.ID)
			case rapid.IntRange(0, 7).Draw(t, "proof") == 0:
				p.Proof, q.Kind = append(p.Proof, q.ID), model.Proof
			}
		}
	}
	time := Time{Minutes: float64(rapid.IntRange(0, 240).Draw(t, "minutes")) / 4}
	for _, p := range list {
		switch rapid.IntRange(0, 9).Draw(t, "part") {
		case 0:
			time.Must = append(time.Must, p.ID)
		default:
			time.May = append(time.May, p.ID)
		}
		g := Gain{Done: []string{p.ID},
			Chance: float64(rapid.IntRange(0, 100).Draw(t, "chance")) / 100}
		g.Guards = rapid.IntRange(0, 4).Draw(t, "guards") == 0
		if rapid.IntRange(0, 3).Draw(t, "by a look") == 0 {
			g.Done = append(g.Done, list[rapid.IntRange(0, len(list)-1).Draw(t, "look")].ID)
		}
		time.Gains = append(time.Gains, g)
	}
	if rapid.Bool().Draw(t, "bookends") {
		for _, p := range bench() {
			if slices.Contains(Bookends, p.ID) {
				list = append(list, p)
			}
		}
	}
	return library(list), time, r
}

// Every choice of a few candidates, each in the order that takes the fewest minutes, by the brute
// force that the order is held to: the choice made is the best of them.
func TestFitTimeAgainstBruteForce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		get, time, r := randomTime(t)
		reckon := remembered(get, time, r)
		p, err := FitTime(get, r.Features, r.Settings, time, r)
		if err != nil {
			if _, ok := reckon(time.Must); ok && !strings.Contains(err.Error(), "circle") &&
				!strings.Contains(err.Error(), "mend its") {
				t.Fatal(err)
			}
			return
		}
		base, ok := reckon(time.Must)
		if !ok {
			return // something is left for another day
		}
		room := max(time.Minutes, base.minutes)
		best, ids := base, time.Must
		for n := range 1 << len(time.May) {
			try := slices.Clone(time.Must)
			for i, id := range time.May {
				if n>>i&1 == 1 {
					try = append(try, id)
				}
			}
			if w, ok := reckon(try); ok && w.minutes <= room && w.compare(best) > 0 {
				best, ids = w, try
			}
		}
		got, ok := reckon(p.Fit.Kept)
		if !ok || got.compare(best) != 0 || !p.Fit.Optimal {
			t.Fatalf("kept %q, %+v, optimal %t; want %q, %+v", p.Fit.Kept, got, p.Fit.Optimal, ids,
				best)
		}
		if p.Minutes() > room {
			t.Fatalf("%s takes %v of %v min; a session of %v is there", sequence(p), p.Minutes(),
				room, best.minutes)
		}
	})
}

// drawn makes candidates of the bench with gains, by a seed.
func drawn(seed uint64, n int) Time {
	rnd := rand.New(rand.NewPCG(seed, 3))
	var time Time
	for _, i := range rnd.Perm(len(bench())) {
		p := bench()[i]
		if p.Kind == model.Bookend || len(time.May) == n {
			continue
		}
		time.May = append(time.May, p.ID)
		time.Gains = append(time.Gains, Gain{Done: []string{p.ID}, Chance: rnd.Float64(),
			Guards: rnd.IntN(10) == 0})
	}
	return time
}

// More time never buys less, whether the choice is exact or bounded. Without OILCAN_LONG one bench
// of each size is tried instead of three.
func TestMoreTimeNeverBuysLess(t *testing.T) {
	get := library(bench())
	for _, n := range []int{12, 20, 34, 56} {
		for seed := range uint64(storetest.Times(1, 3, 3)) {
			time := drawn(seed, n)
			guards, all := -1.0, -1.0
			for m := 5; m <= 240; m += 3 + m/8 {
				time.Minutes = float64(m)
				p, err := FitTime(get, full(), nil, time, Request{SetUps: setUps()})
				if err != nil {
					t.Fatal(err)
				}
				g, a := 0.0, 0.0
				for _, x := range time.Gains {
					if doneIn(get, p, x.Done[0]) {
						a += x.Chance
						if x.Guards {
							g += x.Chance
						}
					}
				}
				name := fmt.Sprintf("%d candidates, seed %d, %d min", n, seed, m)
				if p.Minutes() > time.Minutes || g < guards-1e-3 || g < guards+1e-3 &&
					a < all-1e-3 {
					t.Errorf("%s: %v min buy %.3f and %.3f, less time %.3f and %.3f", name,
						p.Minutes(), g, a, guards, all)
				}
				if p.Fit.Bound < p.Fit.Gained-1e-3 || n <= 20 && !p.Fit.Optimal ||
					p.Fit.Gained < a-1e-3 || p.Fit.Gained > a+1e-3 {
					t.Errorf("%s: gained %v, says %+v", name, a, p.Fit)
				}
				guards, all = g, a
			}
		}
	}
}

func doneIn(get func(string) *model.Procedure, p *Plan, id string) bool {
	return slices.ContainsFunc(p.IDs(), func(x string) bool {
		return x == id || slices.Contains(get(x).CountsAs, id)
	})
}

// BenchmarkFitTime is half an hour on a machine of which twenty things want doing; an hour; and all
// of a bench.
func BenchmarkFitTime(b *testing.B) {
	get := library(bench())
	for _, c := range []struct {
		n       int
		minutes float64
	}{{20, 30}, {20, 60}, {20, 90}, {56, 30}, {56, 60}, {56, 120}} {
		b.Run(fmt.Sprintf("%d/%v", c.n, c.minutes), func(b *testing.B) {
			time := drawn(1, c.n)
			time.Minutes = c.minutes
			for b.Loop() {
				if _, err := FitTime(get, full(), nil, time,
					Request{SetUps: setUps()}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
