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

	Finding *model.Finding // nil where it is none
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

// StandingOn is what stands open on one machine. A finding that its tag repeats, or how it was
// left, is said once.
func StandingOn(bench *model.Bench, m *model.Machine, now time.Time) []Standing {
	var out []Standing
	if s := bench.Sessions[m.Session]; s != nil {
		out = append(out, Standing{At: s.Last, Machine: m.Name, Text: sessionText(s),
			Label: "last ", Due: true})
	}
	said := ""
	if t := m.Tag; t != nil {
		rank := 1
		if t.Kind == model.TagStopped {
			rank = rankStop // before all else
		}
		out = append(out, Standing{Rank: rank, At: t.At, Machine: m.Name, Text: TagText(t),
			Label: "since ", Due: t.Kind == model.TagStopped, Waits: true})
		said = t.Why
	}
	if m.LeftUnplugged() {
		out = append(out, Standing{Rank: 2, At: m.LastSession.At, Machine: m.Name,
			Text: unpluggedText(m), Label: "since ", Waits: true})
	}
	if m.Session == "" && !m.Ledger.WithoutStub().Empty() {
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
		it := Standing{Rank: 3, At: f.At, Machine: m.Name, Text: findingText(f), Label: "seen ",
			Due: f.Kind == model.FoundStop, Finding: &f, Waits: f.Kind != model.FoundNote}
		switch {
		case f.Kind == model.FoundStop:
			it.Rank = rankStop
		case f.Guards():
			it.Rank = rankGuard
		}
		if !f.Again.IsZero() {
			it.At, it.Label, it.Due = f.Again, "again ", it.Due || !f.Again.After(now)
		}
		if said == "" || said != f.Text {
			out = append(out, it)
			continue
		}
		for i := range out {
			if (out[i].Rank == 1 || out[i].Rank == rankStop) && !f.Again.IsZero() {
				out[i].At, out[i].Label, out[i].Due = it.At, it.Label, it.Due || out[i].Due
				out[i].Finding = it.Finding
			}
		}
	}
	return out
}

// Reminders are what has to be put right or looked at by a time: what holds a machine, what waits for
// a part, what is owed, and of the rest what has a day that comes by then.
func Reminders(m *model.Machine, within time.Duration, now time.Time) []Standing {
	out := slices.DeleteFunc(StandingOn(model.NewBench(), m, now), func(it Standing) bool {
		if f := it.Finding; f != nil && !f.Holds() && !f.Again.IsZero() {
			return f.Again.After(now.Add(within))
		}
		return !it.Waits
	})
	slices.SortStableFunc(out, func(a, b Standing) int {
		return cmp.Or(cmp.Compare(a.Rank, b.Rank), a.At.Compare(b.At))
	})
	return out
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
	return kind + ": " + theme.Safe(tag.Why)
}

// findingText is a finding in a line.
func findingText(f model.Finding) string {
	text := theme.Safe(f.Text)
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
