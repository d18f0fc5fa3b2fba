package bench

import (
	"slices"
	"strconv"
	"strings"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/ui/book"
	"bench/oilcan/ui/screen"
	"bench/oilcan/ui/session"
	"bench/oilcan/ui/theme"
)

// drawBeside says in a line each, below what stands open, what is booked and unknown, what to buy,
// and which of the operator's files are left out.
func (b *bench) drawBeside() []string {
	return slices.Concat(b.drawBooked(), b.drawUnknown(), b.drawLow(), b.drawClock(),
		b.drawFiles())
}

// gaugeRoom is how many lines the first gauges of the machine under the cursor take below the list,
// with their heading and the air above it.
const gaugeRoom = 2 + 4

// Where the room is short leastOpen lines stand below the machines all the same, and gauges only
// where leastGauges lines are left for them.
const (
	leastOpen   = 3
	leastGauges = 5
)

// openIn is what stands open and what is beside it, in room lines shared with the machines and,
// where those are below, the first gauges. What stands open and does not
// fit is counted; what is beside it is not.
func (b *bench) openIn(room int) []string {
	left := func(h int) int { return h - 1 - min(len(b.list), h/2) - 1 }
	most := left(room)
	// what stands at the bottom for a while takes of the gauges, not of this
	if all := left(b.H); b.table.cols.list == 0 && all-leastOpen >= leastGauges {
		most = min(most, max(leastOpen, all-gaugeRoom))
	}
	most = max(2, most)
	open, beside := b.open, b.beside
	if over := len(open) + len(beside) - most; over > 0 && len(open) > 2 {
		shown := max(1, len(open)-over-1)
		open = append(slices.Clone(open[:shown]), b.Env.Theme.Text.Dim.Text("             and "+
			strconv.Itoa(len(open)-shown)+" more: enter, by machine"))
	}
	// of the rest what comes last matters most: what to buy, a wrong clock
	return append(slices.Clone(open), beside[max(0, min(len(beside), len(open)+len(beside)-most)):]...)
}

// notesHigh is the height from which what was wrong with a file may take two lines: below it the
// gauges of the machine under the cursor need the room, and the commands say it whole.
const notesHigh = 30

// drawFiles says what was wrong at the start with settings and own procedures.
func (b *bench) drawFiles() []string { return b.drawNotes("files", b.Env.Notes) }

// drawClock says what spoke against the clock at the start, and asks about what is dated ahead of
// it.
func (b *bench) drawClock() []string {
	var notes []string
	if b.Env.WrongClock != "" {
		notes = append(notes, b.Env.WrongClock)
	}
	return b.drawNotes("clock", append(notes, book.Ahead(b.Data.Bench, b.Env.Names(), b.Now)...))
}

// drawNotes writes sentences behind a word.
func (b *bench) drawNotes(head string, notes []string) []string {
	t := b.Env.Theme
	var out []string
	for _, note := range notes {
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

// shortWide is the width from which the sentence about a short-lived part shows what it is held
// against.
const shortWide = 100

func (b *bench) drawItems() []string {
	t := b.Env.Theme
	var items []book.Standing
	for _, m := range b.list {
		items = append(items, book.StandingOn(b.Data.Bench, m, b.Now)...)
		for _, s := range b.Data.Short[m.ID] {
			text := s.Line
			if b.table.cols.open < shortWide && b.table.cols.open == b.W {
				text, _, _ = strings.Cut(text, ", ")
			}
			items = append(items, book.Standing{Rank: 4, At: s.At, Machine: m.Name,
				Text: theme.Safe(text), Label: "last "})
		}
	}
	slices.SortStableFunc(items, func(x, y book.Standing) int {
		if x.Rank != y.Rank {
			return x.Rank - y.Rank
		}
		return x.At.Compare(y.At)
	})
	var out []string
	head := "open"
	c := b.table.cols
	for _, it := range items {
		name := t.Pad(t.Plain(theme.Safe(it.Machine)), c.name)
		room := c.date() - 15 - c.name
		text := t.Between(t.Plain(it.Text), it.Label, room) + it.WhenText(b.Now)
		if it.Rank == 0 && theme.Width(it.Text)+1+len(it.Label) > room {
			// how to go on matters more than since when
			text = t.Trunc(t.Plain(it.Text), c.open-15-c.name)
		}
		if it.Due {
			text = t.State.Due.Text(text)
		}
		out = append(out, "   "+t.Text.Dim.Text(t.Pad(head, 9))+" "+name+"  "+
			strings.TrimRight(text, " "))
		head = ""
	}
	return out
}

// drawBooked says what is booked to be printed on each machine, in a line.
func (b *bench) drawBooked() []string {
	t := b.Env.Theme
	var out []string
	for _, m := range b.list {
		if n := len(m.Booked); n > 0 {
			use := m.BookedUse()
			text := " 1 print"
			if n > 1 {
				text = " " + strconv.Itoa(n) + " prints"
			}
			out = append(out, theme.Safe(m.Name)+text+" of "+model.Hours.Amount(use[model.Hours])+
				" and "+model.Changes.Amount(use[model.Changes]))
		}
	}
	if len(out) == 0 {
		return nil
	}
	room := b.table.cols.open - 14
	return []string{"   " + t.Text.Dim.Text(t.Pad("booked", 9)) + " " +
		t.Trunc(t.Plain(whole(strings.Join(out, ", "), room)), room)}
}

// drawUnknown says, in a line, how many sessions it takes until all is known of each machine.
func (b *bench) drawUnknown() []string {
	t := b.Env.Theme
	var out []string
	for _, m := range b.list {
		n := session.UntilKnown(b.Data.Gauges[m.ID])
		if n == 0 || m.OutOfUse || noHistory(m) {
			continue
		}
		text := theme.Safe(m.Name) + " " + strconv.Itoa(n)
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
	return []string{"   " + t.Text.Dim.Text(t.Pad("unknown", 9)) + " " +
		t.Trunc(t.Plain(strings.Join(out, ", ")), b.table.cols.open-14)}
}

// drawLow says what to buy, in a line.
func (b *bench) drawLow() []string {
	t := b.Env.Theme
	buy := toBuy(b.Data, withLead)
	for _, shorter := range []string{toBuy(b.Data, withStock), toBuy(b.Data, partsOnly),
		strings.SplitN(toBuy(b.Data, partsOnly), ";", 2)[0]} {
		if theme.Width(buy) > b.table.cols.open-14 {
			buy = shorter
		}
	}
	if buy == "" {
		return nil
	}
	return []string{"   " + t.Text.Dim.Text(t.Pad("drawer", 9)) + " " +
		t.Trunc(t.Plain(whole(buy, b.table.cols.open-14)), b.table.cols.open-14)}
}

// whole leaves out of a list what does not fit w cells, part by part, and says how many those are.
func whole(list string, w int) string {
	parts := strings.Split(list, ", ")
	for n := len(parts); n > 0; n-- {
		text := strings.Join(parts[:n], ", ")
		if n < len(parts) {
			text += " and " + strconv.Itoa(len(parts)-n) + " more"
		}
		if theme.Width(text) <= w {
			return text
		}
	}
	return list
}

// detail is how much is said of a part to order.
type detail int

const (
	partsOnly detail = iota // which, and how many
	withStock               // how many are in stock, too
	withLead                // and how long one takes to come
)

// toBuy says what to order and by when, or, until the forecast tells, what is low; "" where nothing
// is.
func toBuy(d *screen.Data, say detail) string {
	if len(d.Buy) == 0 {
		return drawerLow(d.Bench.Drawer, say)
	}
	var s strings.Builder
	by := ""
	for _, a := range d.Buy {
		when := "order now: "
		if a.OrderBy.Sub(d.At) >= 24*time.Hour {
			when = "order by " + model.Day(*a.OrderBy, d.At) + ": "
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
		s.WriteString(theme.Safe(a.Part) + " ×" + strconv.Itoa(a.Order) +
			inStock(a.Count, a.Lead, say))
	}
	return s.String()
}

// inStock says behind a part how many are left, and how long one takes to come.
func inStock(count *float64, days int, say detail) string {
	var parts []string
	if count != nil && say >= withStock {
		parts = append(parts, model.Number(*count)+" in stock")
	}
	if say >= withLead && days > 0 {
		parts = append(parts, "lead time "+strconv.Itoa(days)+" days")
	}
	if len(parts) == 0 {
		return ""
	}
	return " (" + strings.Join(parts, ", ") + ")"
}

// drawerLow says what is at or under its minimum, or used up, with the lead times where asked; ""
// where nothing is.
func drawerLow(d model.Drawer, say detail) string {
	var out []string
	for _, k := range screen.Sorted(d) {
		s := d[k]
		if !s.Low() {
			continue
		}
		out = append(out, theme.Safe(k)+inStock(s.Count, s.Lead, say))
	}
	if len(out) == 0 {
		return ""
	}
	return "low: " + strings.Join(out, ", ")
}
