package walk

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"bench/oilcan/model"
)

// A supply holds its charge after the plug is out: connectors are parted five minutes later and not
// before (common practice). The clock starts when the plug comes out, or when it is said to be out,
// unless it is told since when.
const unpluggedClock = "unplugged"

// cooling is the clock that runs once every target is zero.
const cooling = "cooling"

// uncuttable says why a wait keeps people safe; "" where it does not.
func (r *Running) uncuttable() string {
	switch r.Clock {
	case "airing":
		return "vapour clears only by the clock, door and top open"
	case unpluggedClock:
		return "the supply holds its charge, and only this clock says it is gone"
	case cooling:
		return "metal sheds its heat by the clock, and hands stay out until then"
	}
	if r.Attended {
		return "it is watched until the time is over, one hand near the switch"
	}
	return ""
}

// ReadsInstead tells whether what follows a wait for cooling reads every place anyway: then a
// reading ends it, for hands wait for that and not for a clock.
func (w *Walk) ReadsInstead(p Prompt) bool {
	if p.Kind != AskWait || p.Wait.Clock != cooling || p.Step == nil {
		return false
	}
	i := stepIndex(p.Block, p.Step.Name)
	if p.Step.Gate == model.Wait {
		i++
	}
	return i >= 0 && i < len(p.Block.Proc.Steps) && readsHeat(&p.Block.Proc.Steps[i])
}

// Uncuttable says why the wait that stands is not cut by any word, "" where it may be.
func (w *Walk) Uncuttable(p Prompt) string {
	if w.ReadsInstead(p) {
		return ""
	}
	return p.Wait.uncuttable()
}

// readsHeat tells whether a step is passed by a reading that is cold alone.
func readsHeat(s *model.Step) bool {
	t, _ := model.TemperatureOf(s.Quantity)
	return s.Gate == model.Measure && len(t.Places) > 0 && s.High != nil && *s.High <= coldUpTo
}

// watched tells whether a wait is one through which a machine under power or heat is watched. Where
// it only moves, its end is seen, and the clock is a guess.
func watched(b *Block, s *model.Step) bool {
	if !s.Attended {
		return false
	}
	for i := stepIndex(b, s.Name); i >= 0; i-- {
		x := &b.Proc.Steps[i]
		if subject(b, x) != subject(b, s) {
			break // another procedure's, in what is owed
		}
		if len(x.Drives) > 0 {
			return drives(x)
		}
	}
	return true
}

// dischargeFrom starts the clock where the plug is out, and stops it where it is not.
func (rn *running) dischargeFrom(v model.Variable, is string, at time.Time) {
	switch {
	case v != model.Power:
	case is == model.Unplugged:
		rn.Clocks[unpluggedClock] = at
	default:
		delete(rn.Clocks, unpluggedClock)
	}
}

// dischargeAgain forgets when the plug came out, and the waits of procedures under way that counted
// from it.
func (w *Walk) dischargeAgain() {
	delete(w.Clocks, unpluggedClock)
	w.Waits = slices.DeleteFunc(slices.Clone(w.Waits), func(r Running) bool {
		return r.Clock == unpluggedClock
	})
	for _, b := range w.Blocks {
		if b.Status != Ahead || b.key == "" {
			continue
		}
		for _, s := range b.Proc.Steps {
			if s.Gate == model.Wait && s.Clock == unpluggedClock {
				delete(w.passed, stepKey(b.key, s.Name))
			}
		}
	}
}

// saidOut tells whether an answer says that the plug is out, by its tag where it has one, and what
// is said of since when: "H1 since 14:05" gives "since 14:05".
func (g *given) saidOut(text string) (out bool, since string) {
	word := orElse(g.Begun.Settings[model.PlugTag], "unplugged")
	if len(text) < len(word) || !strings.EqualFold(text[:len(word)], word) {
		return false, ""
	}
	rest := text[len(word):]
	return rest == "" || rest[0] == ' ', strings.TrimSpace(rest)
}

// judgeOut takes it that the plug is out, and since when.
func (at *progress) judgeOut(c Context, x model.Walked, since string) Reply {
	x.Answer = "unplugged"
	if since != "" {
		out, err := sinceWhen(c.Now, since)
		if err != nil {
			return refuse("%s.", upperFirst(err.Error()))
		}
		x.Until = out
	}
	return Reply{Facts: []model.Fact{at.walked(x)}}
}

// sinceWhen reads "20 min", "2 h" or "since 14:05", which is the last time it was that late.
func sinceWhen(now time.Time, text string) (time.Time, error) {
	if hour, ok := strings.CutPrefix(strings.ToLower(text), "since "); ok {
		if t, err := time.Parse("15:04", strings.TrimSpace(hour)); err == nil {
			at := time.Date(now.Year(), now.Month(), now.Day(), t.Hour(), t.Minute(), 0, 0,
				now.Location())
			if at.After(now) {
				at = at.AddDate(0, 0, -1)
			}
			return at, nil
		}
	}
	if q, err := model.ReadNumber(text); err == nil && (q.Unit == "min" || q.Unit == "h") {
		n, err := q.One(nil)
		if d := time.Duration(n * float64(time.Minute)); err == nil && n >= 0 && n < 10_000 {
			if q.Unit == "h" {
				d *= 60
			}
			return now.Add(-d), nil
		}
	}
	return time.Time{},
		fmt.Errorf("since when the plug is out cannot be read from %q: write 20 min, 2 h or since 14:05 behind it, or nothing", text)
}

// earliest is since, where it is told and not later than at.
func earliest(at, since time.Time) time.Time {
	if since.IsZero() || since.After(at) {
		return at
	}
	return since
}
