package screen

import (
	"maps"
	"slices"
	"strings"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/model/symptom"
	"bench/oilcan/ui/sitting"
	"bench/oilcan/ui/theme"
)

// openItem is one thing that stands open on a machine.
type openItem struct {
	rank    int // sessions, tags, what was left open, findings by date
	at      time.Time
	machine string
	text    string
	label   string // what the date is
	due     bool
}

// whenText is the date.
func (it openItem) whenText(now time.Time) string {
	return it.at.In(now.Location()).Format(time.DateOnly)
}

// drawOpen lists what stands open on the bench, what to buy, and which of the operator's files are left out.
func (b *bench) drawOpen() []string {
	return slices.Concat(b.drawItems(), b.drawUnknown(), b.drawLow(), b.drawNotes())
}

// notesHigh is the height from which what was wrong with a file may take two lines: below it the gauges of the
// machine under the cursor need the room, and the commands say it whole.
const notesHigh = 30

// drawNotes says what was wrong at the start with settings and own procedures.
func (b *bench) drawNotes() []string {
	t := b.Env.Theme
	var out []string
	head := "files"
	for _, note := range b.Env.Notes {
		wide := max(20, b.table.cols.open-14)
		lines := theme.Wrap(t.Plain(theme.Safe(note)), wide)
		switch {
		case len(lines) > 1 && b.H < notesHigh:
			lines = []string{t.Trunc(strings.Join(lines, " "), wide)}
		case len(lines) > 2:
			lines = []string{lines[0], t.Trunc(strings.Join(lines[1:], " "), wide)}
		}
		for _, l := range lines {
			out = append(out, "   "+t.Text.Dim.Text(t.Pad(head, 9))+" "+l)
			head = ""
		}
	}
	return out
}

// shortWide is the width from which the sentence about a short-lived part shows what it is held against.
const shortWide = 100

// drawItems lists what stands open.
func (b *bench) drawItems() []string {
	t := b.Env.Theme
	var items []openItem
	for _, m := range b.list {
		items = append(items, openOf(b.Data.Bench, m, b.Now)...)
		for _, s := range b.Data.Short[m.ID] {
			text := s.Line
			if b.table.cols.open < shortWide && b.table.cols.open == b.W {
				text, _, _ = strings.Cut(text, ", ")
			}
			items = append(items, openItem{4, s.At, m.Name, theme.Safe(text), "last ", false})
		}
	}
	slices.SortStableFunc(items, func(x, y openItem) int {
		if x.rank != y.rank {
			return x.rank - y.rank
		}
		return x.at.Compare(y.at)
	})
	var out []string
	head := "open"
	c := b.table.cols
	for _, it := range items {
		name := t.Pad(t.Plain(theme.Safe(it.machine)), c.name)
		room := c.date() - 15 - c.name
		text := t.Between(t.Plain(it.text), it.label, room) + it.whenText(b.Now)
		if it.rank == 0 && theme.Width(it.text)+1+len(it.label) > room {
			text = t.Trunc(t.Plain(it.text), c.open-15-c.name) // how to go on matters more than since when
		}
		if it.due {
			text = t.State.Due.Text(text)
		}
		out = append(out, "   "+t.Text.Dim.Text(t.Pad(head, 9))+" "+name+"  "+strings.TrimRight(text, " "))
		head = ""
	}
	return out
}

// drawUnknown says, in a line, how many sessions it takes until all is known of each machine.
func (b *bench) drawUnknown() []string {
	t := b.Env.Theme
	var out []string
	for _, m := range b.list {
		n := sitting.UntilKnown(b.Data.Gauges[m.ID])
		if n == 0 || m.OutOfUse || noHistory(m) {
			continue
		}
		text := theme.Safe(m.Name) + " " + itoa(n)
		if len(out) == 0 {
			text += " session"
			if n > 1 {
				text += "s"
			}
			text += " until all is known"
		}
		out = append(out, text)
	}
	if len(out) == 0 {
		return nil
	}
	return []string{"   " + t.Text.Dim.Text(t.Pad("unknown", 9)) + " " + t.Trunc(t.Plain(strings.Join(out, ", ")), b.table.cols.open-14)}
}

// drawLow says what to buy, in a line.
func (b *bench) drawLow() []string {
	t := b.Env.Theme
	buy := toBuy(b.Data, true)
	for _, shorter := range []string{toBuy(b.Data, false), strings.SplitN(toBuy(b.Data, false), ";", 2)[0]} {
		if theme.Width(buy) > b.table.cols.open-14 {
			buy = shorter
		}
	}
	if buy == "" {
		return nil
	}
	return []string{"   " + t.Text.Dim.Text(t.Pad("drawer", 9)) + " " + t.Trunc(t.Plain(buy), b.table.cols.open-14)}
}

// openOf is what stands open on one machine. A finding that its tag repeats is said once.
func openOf(bench *model.Bench, m *model.Machine, now time.Time) []openItem {
	var out []openItem
	if s := bench.Sessions[m.Session]; s != nil {
		out = append(out, openItem{0, s.Last, m.Name, sessionText(s), "last ", true})
	}
	said := ""
	if t := m.Tag; t != nil {
		rank := 1
		if t.Kind == model.TagStopped {
			rank = -1 // before all else
		}
		out = append(out, openItem{rank, t.At, m.Name, tagText(t), "since ", t.Kind == model.TagStopped})
		said = t.Why
	}
	if m.Session == "" && !m.Ledger.Empty() {
		out = append(out, openItem{2, m.LastAt, m.Name, "left open: " + ledgerText(m.Ledger) + "; a care session closes it", "since ", true})
	}
	if c, asked := symptom.Pending(m); asked {
		out = append(out, openItem{2, c.At, m.Name, "cured? s answers: " + strings.Join(c.Symptoms, " and "), "care ", false})
	}
	for _, f := range m.Findings {
		it := openItem{3, f.At, m.Name, findingText(f), "seen ", f.Kind == model.FoundStop}
		if f.Kind == model.FoundStop {
			it.rank = -1
		}
		if !f.Again.IsZero() {
			it.at, it.label, it.due = f.Again, "again ", it.due || !f.Again.After(now)
		}
		if said == "" || said != f.Text {
			out = append(out, it)
			continue
		}
		for i := range out {
			if (out[i].rank == 1 || out[i].rank == -1) && !f.Again.IsZero() {
				out[i].at, out[i].label, out[i].due = it.at, it.label, it.due || out[i].due
			}
		}
	}
	return out
}

// sessionText is a begun session in a line.
func sessionText(s *model.Session) string {
	text := theme.Safe(s.Title)
	switch {
	case s.Position == "":
		text += " begun"
	case s.Paused:
		text += " paused at " + theme.Safe(s.Position)
	default:
		text += " left at " + theme.Safe(s.Position)
	}
	return text + "; c goes on"
}

// tagText is a tag in a line.
func tagText(tag *model.Tag) string {
	kind := map[model.TagKind]string{model.TagGivenUp: "session given up", model.TagWaiting: "waiting for a part", model.TagLimits: "ready with limits",
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
		for _, k := range sortedNames(m) {
			if m[k] == 1 {
				ws = append(ws, theme.Safe(k))
			} else if m[k] != 0 {
				ws = append(ws, itoa(m[k])+" "+theme.Safe(k))
			}
		}
		if len(ws) > 0 {
			out = append(out, strings.Join(ws, ", ")+" "+where)
		}
	}
	part(l.Out, "out")
	part(l.Inside, "inside")
	for _, k := range sortedNames(l.Flags) {
		if k != "lost-piece" {
			out = append(out, theme.Safe(k+" "+l.Flags[k]))
		}
	}
	for _, p := range l.LostPieces() {
		if !strings.HasPrefix(p, model.LeftOver) {
			p = "lost: " + p
		}
		out = append(out, theme.Safe(p))
	}
	return strings.Join(out, "; ")
}

func sortedNames[V any](m map[string]V) []string { return slices.Sorted(maps.Keys(m)) }

// toBuy says what to order and by when, or, until the forecast tells, what is low; "" where nothing is.
func toBuy(d *Data, lead bool) string {
	if len(d.Buy) == 0 {
		return drawerLow(d.Bench.Drawer, lead)
	}
	var s strings.Builder
	by := ""
	for _, a := range d.Buy {
		when := "order now: "
		if a.OrderBy.Sub(d.At) >= 24*time.Hour {
			when = "order by " + a.OrderBy.In(d.At.Location()).Format(time.DateOnly) + ": "
		}
		switch {
		case by == "":
			s.WriteString(when)
		case when != by:
			s.WriteString("; " + when)
		default:
			s.WriteString(", ")
		}
		by = when
		s.WriteString(theme.Safe(a.Part) + inStock(a.Count, a.Lead, lead))
	}
	return s.String()
}

// inStock says behind a part how many are left, so that it is not read as how many to order, and how long one takes to come.
func inStock(count *float64, days int, lead bool) string {
	var parts []string
	if count != nil {
		parts = append(parts, model.Number(*count)+" left")
	}
	if lead && days > 0 {
		parts = append(parts, "lead time "+itoa(days)+" days")
	}
	if len(parts) == 0 {
		return ""
	}
	return " (" + strings.Join(parts, ", ") + ")"
}

// drawerLow says what is at or under its minimum, or used up, with the lead times where asked; "" where
// nothing is.
func drawerLow(d model.Drawer, lead bool) string {
	var out []string
	for _, k := range sortedNames(d) {
		s := d[k]
		if !s.Low() {
			continue
		}
		out = append(out, theme.Safe(k)+inStock(s.Count, s.Lead, lead))
	}
	if len(out) == 0 {
		return ""
	}
	return "low: " + strings.Join(out, ", ")
}
