package screen

import (
	"slices"
	"strings"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/ui/theme"
)

// openItem is one thing that stands open on a machine.
type openItem struct {
	rank    int // sessions, tags, what was left open, findings by date
	at      time.Time
	machine string
	text    string
	due     bool
}

// drawOpen lists what stands open on the bench, and what to buy.
func (b *bench) drawOpen() []string {
	t := b.Env.Theme
	var items []openItem
	for _, m := range b.list {
		items = append(items, openOf(b.Data.Bench, m, b.Now)...)
	}
	slices.SortStableFunc(items, func(x, y openItem) int {
		if x.rank != y.rank {
			return x.rank - y.rank
		}
		return x.at.Compare(y.at)
	})
	var out []string
	head := "open"
	for _, it := range items {
		text := t.Trunc(t.Plain(it.text), b.W-15-b.table.cols.name)
		if it.due {
			text = t.State.Due.Text(text)
		}
		name := t.Pad(t.Plain(theme.Safe(it.machine)), b.table.cols.name)
		out = append(out, "   "+t.Text.Dim.Text(t.Pad(head, 9))+" "+name+"  "+text)
		head = ""
	}
	if buy := drawerLow(b.Data.Bench.Drawer); buy != "" {
		out = append(out, "   "+t.Text.Dim.Text(t.Pad("drawer", 9))+" "+t.Trunc(t.Plain(buy), b.W-14))
	}
	return out
}

// openOf is what stands open on one machine.
func openOf(bench *model.Bench, m *model.Machine, now time.Time) []openItem {
	var out []openItem
	add := func(rank int, at time.Time, due bool, text string) {
		out = append(out, openItem{rank, at, m.Name, text, due})
	}
	if s := bench.Sessions[m.Session]; s != nil {
		add(0, s.Begun, true, sessionText(s))
	}
	if m.Tag != nil {
		add(1, m.Tag.At, m.Tag.Kind == "stopped", tagText(m.Tag, now))
	}
	if m.Session == "" && !m.Ledger.Empty() {
		add(2, m.LastAt, true, "left open: "+ledgerText(m.Ledger)+"; a care session closes it")
	}
	for _, f := range m.Findings {
		at := f.Again
		if at.IsZero() {
			at = f.At
		}
		add(3, at, f.Kind == "stop" || !f.Again.IsZero() && !f.Again.After(now), findingText(f, now))
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
	return text + "; state unknown, c goes on"
}

// tagText is a tag in a line.
func tagText(tag *model.Tag, now time.Time) string {
	kind := map[string]string{"given-up": "session given up", "waiting": "waiting for a part", "limits": "ready with limits",
		"out-of-use": "out of use"}[tag.Kind]
	if kind == "" {
		kind = theme.Safe(tag.Kind)
	}
	if tag.Why != "" {
		kind += ": " + theme.Safe(tag.Why)
	}
	return kind + ", " + tag.At.In(now.Location()).Format("2006-01-02")
}

// findingText is a finding in a line.
func findingText(f model.Finding, now time.Time) string {
	text := theme.Safe(f.Text)
	if f.Part != "" && !strings.Contains(text, f.Part) {
		text += " (" + theme.Safe(f.Part) + ")"
	}
	if f.Again.IsZero() {
		return text + ", seen " + f.At.In(now.Location()).Format("2006-01-02")
	}
	return text + ", look again " + f.Again.In(now.Location()).Format("2006-01-02")
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
		out = append(out, theme.Safe(k+" "+l.Flags[k]))
	}
	return strings.Join(out, "; ")
}

func sortedNames[V any](m map[string]V) []string {
	out := make([]string, 0, len(m))
	for k := range m {
		out = append(out, k)
	}
	slices.Sort(out)
	return out
}

// drawerLow says what is at or under its minimum, or used up; "" where nothing is.
func drawerLow(d model.Drawer) string {
	var out []string
	for _, k := range sortedNames(d) {
		s := d[k]
		if !low(s) {
			continue
		}
		text := theme.Safe(k) + " " + model.Number(*s.Count)
		if s.Lead > 0 {
			text += " (lead time " + itoa(s.Lead) + " days)"
		}
		out = append(out, text)
	}
	if len(out) == 0 {
		return ""
	}
	return "low: " + strings.Join(out, ", ") + "; d shows all"
}

// low tells that a part has to be bought: none left, or no more than the minimum kept.
func low(s *model.Stock) bool {
	return s.Count != nil && (*s.Count <= 0 || s.Minimum > 0 && *s.Count <= s.Minimum)
}
