package book

import (
	"cmp"
	"maps"
	"slices"
	"strconv"
	"strings"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/model/symptom"
	"bench/oilcan/model/walk"
	"bench/oilcan/ui/theme"
)

// Standing is one thing that stands open on a machine.
type Standing struct {
	Rank    int // what stops, what guards a person, sessions, tags, what was left open, findings
	At      time.Time
	Machine string
	Text    string
	Label   string // what the date is
	Due     bool

	Since   time.Time      // of a tag or a finding: when it was made or seen
	Tag     bool           // it is the machine's tag
	Finding *model.Finding // nil where it is none, and no tag says one
	Waits   bool           // it is no question and no session: it waits to be put right
}

// The ranks of what comes before a begun session: what stops the machine, then what guards a
// person.
const (
	rankStop  = -2
	rankGuard = -1
)

// WhenText is the date.
func (it Standing) WhenText(now time.Time) string {
	return model.Day(it.At, now)
}

// Said is it in a line of its own, with all its days: since when, and when it comes up again.
func (it Standing) Said(now time.Time) string {
	f, since := it.Finding, it.Since
	text := it.Text + "; "
	switch {
	case since.IsZero():
		return text + it.Label + model.Day(it.At, now)
	case it.Tag:
		text += "since " + model.Day(since, now)
	default:
		text += f.AtWord() + " " + model.Day(since, now)
	}
	if f != nil && !f.Again.IsZero() {
		text += "; " + f.DayWord() + " " + model.Day(f.Again, now)
	}
	return text
}

// StandingOn is what stands open on one machine. A finding that its tag repeats, or how it was
// left, is said once.
func StandingOn(bench *model.Bench, m *model.Machine, now time.Time) []Standing {
	var out []Standing
	if s := bench.Sessions[m.Session]; s != nil {
		out = append(out, Standing{At: s.Last, Machine: m.Name, Text: sessionText(s),
			Label: "last ", Due: true})
	}
	tag := -1 // its place
	if t := m.Tag; t != nil {
		it := Standing{Rank: 1, At: t.At, Since: t.At, Machine: m.Name, Text: TagText(t), Tag: true,
			Label: "since ", Due: t.Kind == model.TagStopped, Waits: true}
		if t.Kind == model.TagStopped {
			it.Rank = rankStop // before all else
		}
		tag, out = len(out), append(out, it)
	}
	if m.LeftUnplugged() {
		out = append(out, Standing{Rank: 2, At: m.LastSession.At, Machine: m.Name,
			Text: unpluggedText(m), Label: "since ", Waits: true})
	}
	if m.Session == "" && walk.LeftOpen(m) {
		out = append(out, Standing{Rank: 2, At: m.LastAt, Machine: m.Name, Label: "since ",
			Text: "left open: " + ledgerText(m.Ledger) + "; a care session closes it", Due: true,
			Waits: true})
	}
	if c, asked := symptom.Pending(m); asked {
		out = append(out, Standing{Rank: 2, At: c.At, Machine: m.Name, Label: "care ",
			Text: "cured? s answers: " + strings.Join(c.Symptoms, " and ")})
	}
	for _, f := range m.Findings {
		if m.LeftUnplugged() && f.Kind == model.FoundOwed && f.Hash != "" {
			continue // said above
		}
		it := findingOn(m, f, now)
		if tag < 0 || m.Tag.Why == "" || m.Tag.Why != f.Text {
			out = append(out, it)
			continue
		}
		t := &out[tag] // it says the same, and has its own day
		t.Finding = it.Finding
		if !f.Again.IsZero() {
			t.At, t.Label, t.Due = it.At, it.Label, it.Due || t.Due
		}
	}
	return out
}

// findingOn is a finding of a machine, or a reminder, as it stands.
func findingOn(m *model.Machine, f model.Finding, now time.Time) Standing {
	it := Standing{Rank: 3, At: f.At, Since: f.At, Machine: m.Name, Text: findingText(f),
		Label: "seen ", Due: f.Kind == model.FoundStop, Finding: &f, Waits: f.Kind != model.FoundNote}
	switch {
	case f.Kind == model.FoundStop:
		it.Rank = rankStop
	case f.Guards():
		it.Rank = rankGuard
	}
	if f.Reminds() {
		it.Label = "since "
	}
	if !f.Again.IsZero() {
		it.At, it.Due = f.Again, it.Due || !f.Again.After(now)
		if it.Label = "again "; f.Reminds() {
			it.Label = f.DayWord() + " "
		}
	}
	return it
}

// Lasting is what stands on a machine whether or not a screen is open: its tag, how it was left, its
// findings and reminders; what stops it and guards a person first.
func Lasting(m *model.Machine, now time.Time) []Standing {
	out := slices.DeleteFunc(StandingOn(model.NewBench(), m, now), func(it Standing) bool {
		return !it.Waits && it.Finding == nil
	})
	slices.SortStableFunc(out, func(a, b Standing) int {
		return cmp.Or(cmp.Compare(a.Rank, b.Rank), a.At.Compare(b.At))
	})
	return out
}

// Reminders are what of it has to be put right or looked at by a time: what holds a machine, what
// waits for a part, what is owed, and of the rest what has a day that comes by then.
func Reminders(m *model.Machine, within time.Duration, now time.Time) []Standing {
	return slices.DeleteFunc(Lasting(m, now), func(it Standing) bool {
		if f := it.Finding; !it.Tag && f != nil && !f.Holds() && !f.Again.IsZero() {
			return f.Again.After(now.Add(within))
		}
		return !it.Waits
	})
}

// unpluggedText says that a machine was left unplugged, and what it owes.
func unpluggedText(m *model.Machine) string {
	var owed []string
	for _, f := range m.OwedAtPower() {
		owed = append(owed, strings.TrimPrefix(f.Text, model.OwedUnderPower))
	}
	switch len(owed) {
	case 0:
		return "left unplugged"
	case 1:
		return "left unplugged; owed once it is on: " + theme.Safe(owed[0])
	default:
		return "left unplugged; " + strconv.Itoa(len(owed)) + " checks owed once it is on: " +
			theme.Safe(strings.Join(owed, "; "))
	}
}

// sessionText is a begun session in a line.
func sessionText(s *model.Session) string {
	text := "c goes on: " + theme.Safe(s.Title) // how to go on is never what is cut
	switch {
	case s.Position == "":
		text += ", begun"
	case s.Paused:
		text += ", paused at " + theme.Safe(s.Position)
	default:
		text += ", left at " + theme.Safe(s.Position)
	}
	return text
}

// TagText is a tag in a line.
func TagText(tag *model.Tag) string {
	kind := map[model.TagKind]string{model.TagGivenUp: "session given up",
		model.TagWaiting: "waiting for a part", model.TagLimits: "ready with limits",
		model.TagOutOfUse: "out of use", model.TagStopped: "stopped"}[tag.Kind]
	if kind == "" {
		kind = theme.Safe(string(tag.Kind))
	}
	if tag.Why == "" {
		return kind
	}
	return kind + ": " + strings.TrimSuffix(theme.Safe(tag.Why), ".")
}

// findingText is a finding in a line, to which its day is added.
func findingText(f model.Finding) string {
	text := strings.TrimSuffix(theme.Safe(f.Text), ".")
	if f.Part != "" && !strings.Contains(text, f.Part) {
		text += " (" + theme.Safe(f.Part) + ")"
	}
	return text
}

// ledgerText is what must be undone, in a few words.
func ledgerText(l model.Ledger) string {
	var out []string
	part := func(m map[string]int, where string) {
		var ws []string
		for _, k := range slices.Sorted(maps.Keys(m)) {
			if m[k] == 1 {
				ws = append(ws, theme.Safe(k))
			} else if m[k] != 0 {
				ws = append(ws, strconv.Itoa(m[k])+" "+theme.Safe(k))
			}
		}
		if len(ws) > 0 {
			out = append(out, strings.Join(ws, ", ")+" "+where)
		}
	}
	part(l.Out, "out")
	part(l.Inside, "inside")
	for _, k := range slices.Sorted(maps.Keys(l.Flags)) {
		if k != model.FlagLost {
			out = append(out, theme.Safe(l.FlagText(k)))
		}
	}
	for _, p := range l.LostPieces() {
		if !strings.HasPrefix(p, model.LeftOver) {
			p = "missing: " + model.LostName(p)
		}
		out = append(out, theme.Safe(p))
	}
	return strings.Join(out, "; ")
}
