package sheet

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
	"bench/oilcan/ui/action"
	"bench/oilcan/ui/book"
	"bench/oilcan/ui/session"
)

// done is a session as its entries have it.
type done struct {
	session.Recorded
	names action.Names
	now   time.Time
}

// Done makes the page of a session: what it came to, the state, what was read and found, the parts,
// and every step as it was answered, in the order of time. What its entries do not hold is left
// out.
func Done(r session.Recorded, names action.Names, now time.Time) Doc {
	d := done{r, names, now}
	doc := Doc{Title: r.Machine.Name + ": " + d.title(), Under: d.under(),
		Foot: []string{notCertified}}
	parts := []Part{d.came(), d.state(), d.values(), d.parts(),
		d.list("Seen", d.seen), d.list("Reminders", func(e model.Entry) bool {
			return e.Finding != nil && e.Finding.Reminds()
		}), d.list("Drawer", func(e model.Entry) bool { return e.Stock != nil })}
	for _, p := range append(parts, d.steps()...) {
		if len(p.Rows)+len(p.List)+len(p.Text) > 0 {
			doc.Parts = append(doc.Parts, p)
		}
	}
	return doc
}

// begun and closed are how it began and ended; nil where an entry is not there.
func (d done) begun() *model.Begun {
	for _, l := range d.Lines {
		if b := l.Entry.Fact.Begun; b != nil {
			return b
		}
	}
	return nil
}

func (d done) closed() *model.Closed {
	for _, l := range d.Lines {
		if l.Entry.Closed != nil {
			return l.Entry.Closed
		}
	}
	return nil
}

func (d done) title() string {
	if b := d.begun(); b != nil {
		return cmp.Or(b.Title, "care session")
	}
	return "care session"
}

// under says from when to when, by whom, and when it was written.
func (d done) under() []string {
	var by []string
	late, last := 0, time.Time{}
	for _, l := range d.Lines {
		e := l.Entry
		if e.By != "" && !slices.Contains(by, e.By) {
			by = append(by, e.By)
		}
		if e.Written.Sub(e.At) > book.WrittenLate {
			late, last = late+1, e.Written
		}
	}
	from, to := d.Lines[0].Entry.At, d.Lines[len(d.Lines)-1].Entry.At
	text := "from " + model.Stamp(from, d.now) + " to " + d.clock(to)
	if d.closed() == nil {
		text += ", and not closed yet"
	}
	if len(by) > 0 {
		text += ", by " + model.Listed(by, "and")
	}
	written := "written at the time"
	switch {
	case late == len(d.Lines):
		written = "written later, on " + model.Stamp(last, d.now)
	case late > 0:
		written = fmt.Sprintf(
			"written at the time, but for %d of %d entries, the last of them on %s",
			late, len(d.Lines), model.Stamp(last, d.now))
	}
	return []string{text, written}
}

// clock is when something was; with its day, where that is not the first.
func (d done) clock(t time.Time) string {
	if model.Day(t, d.now) != model.Day(d.Lines[0].Entry.At, d.now) {
		return model.Stamp(t, d.now)
	}
	return model.Clock(t, d.now)
}

// came is what it came to.
func (d done) came() Part {
	p := Part{Head: "What it came to"}
	if c := d.closed(); c != nil {
		how := "closed"
		switch {
		case c.GivenUp:
			how = "given up"
		case c.Stopped:
			how = "stopped"
		}
		p.name(how, c.State, c.Why)
		p.name("minutes", "hands "+model.Minutes(c.Hands)+", waited "+model.Minutes(c.Waited))
	}
	if d.Walk != nil {
		sum := walk.Summarise(d.Walk)
		p.name("done", sum.Done...)
		if d.closed() == nil { // how it stands is said of the state
			for i, t := range sum.Left {
				sum.Left[i] = strings.TrimSuffix(t, ": "+string(walk.Ahead))
			}
			p.name("still ahead", sum.Left...)
			return p
		}
		p.name("not done", sum.Left...)
		p.name("counted", sum.Counted)
		return p
	}
	var chosen []string
	if b := d.begun(); b != nil {
		for _, r := range b.Items {
			chosen = append(chosen, d.names.Procedure(r.ID))
		}
	}
	p.name("chosen", chosen...)
	if !slices.ContainsFunc(d.Lines, func(l book.Line) bool { return l.Entry.Walk != nil }) {
		p.name("steps", "none of them is on record")
	}
	return p
}

// name adds what is said under a name, each text on a row.
func (p *Part) name(name string, texts ...string) {
	for _, t := range texts {
		if t != "" {
			p.Rows = append(p.Rows, []string{name, t})
			name = ""
		}
	}
}

// state is how the machine stood at the start, as it was said then, and how it was left.
func (d done) state() Part {
	p := Part{Head: "State"}
	said := model.Condition{}
	for _, l := range d.Lines {
		x := l.Entry.Walk
		if x != nil && x.What == walk.Planned {
			break
		}
		if x != nil && x.What == walk.Said {
			said[x.Variable] = answered(x)
		}
	}
	p.name("at the start", stateText(said))
	c := d.closed()
	switch {
	case c == nil && d.Walk != nil:
		p.name("as of now", strings.ReplaceAll(walk.StateLine(d.Walk), " · ", ", "),
			walk.LedgerLine(d.Walk.Ledger()))
	case c == nil:
	case d.Walk != nil:
		p.name("at the end", strings.ReplaceAll(walk.StateLine(d.Walk), " · ", ", "),
			walk.LedgerLine(c.Ledger))
	default:
		p.name("at the end", stateText(c.Stood), walk.LedgerLine(c.Ledger))
	}
	return p
}

// stateText says how a machine stood, as far as known.
func stateText(c model.Condition) string {
	var out []string
	for _, v := range model.Variables {
		if x := c[v]; x != "" {
			out = append(out, string(v)+" "+string(x))
		}
	}
	return strings.Join(out, ", ")
}

// values are what was read, the first time and the last where it was read more than once, beside
// what it was before; and how looks met their parts.
func (d done) values() Part {
	p := Part{Head: "As found and as left"}
	read := map[string][]string{}
	var order []string
	before := map[string]string{}
	for _, l := range d.Lines {
		name, text := "", ""
		switch e := l.Entry; {
		case l.Struck:
		case e.Value != nil:
			name, text = e.Value.Name, model.Figure(e.Value.Value)+" "+e.Value.Unit
			if _, seen := read[name]; !seen {
				before[name] = d.before(name, e.At)
			}
		case e.Reading != nil:
			name, text = string(e.Reading.Meter), e.Reading.Meter.Amount(e.Reading.Value)
		case e.Care != nil && e.Care.Found != "":
			p.Rows = append(p.Rows, []string{d.names.Procedure(e.Care.Procedure),
				"found " + book.Met(e.Care.Found), "", ""})
		}
		if name == "" {
			continue
		}
		if _, seen := read[name]; !seen {
			order = append(order, name)
		}
		read[name] = append(read[name], strings.TrimSpace(text)+" at "+d.clock(l.Entry.At))
	}
	for _, name := range order {
		r := read[name]
		row := []string{name, "read " + r[0], "", before[name]}
		if len(r) > 1 { // the first time and the last, whatever was read between them
			row[1], row[2] = "found "+r[0], "left "+r[len(r)-1]
		}
		p.Rows = append(p.Rows, row)
	}
	return p
}

// before is what a quantity was when it was last read before a time, "" where that is not kept.
func (d done) before(name string, at time.Time) string {
	text := ""
	for _, v := range d.Machine.Values[name] {
		if v.At.Before(at) {
			text = "before " + strings.TrimSpace(model.Figure(v.Value)+" "+v.Unit) + ", " +
				model.Day(v.At, d.now)
		}
	}
	return text
}

// parts are those that came off and went on.
func (d done) parts() Part {
	p := Part{Head: "Parts off and on"}
	for _, l := range d.Lines {
		s := l.Entry.Swap
		if s == nil {
			continue
		}
		off := "the old one off"
		if s.End != model.EndUnknown {
			off += ", " + string(s.End)
		}
		if life := d.life(s.Part, l.Entry.At); life != "" {
			off += ", after " + life
		}
		on := "a new one on"
		if s.Lot != "" {
			on += ", lot " + s.Lot
		}
		if l.Struck {
			off = "(struck: " + l.Why + ") " + off
		}
		p.Rows = append(p.Rows, []string{s.Part, off, on})
	}
	return p
}

// life says how long the part that came off at a time was in, "" where that is not known.
func (d done) life(part string, at time.Time) string {
	now := d.Machine.Parts[part]
	if now == nil {
		return ""
	}
	for _, l := range now.Lives {
		if !l.To.Equal(at) {
			continue
		}
		var out []string
		for _, k := range model.TypedMeters {
			if v, ok := l.UsedOf(k); ok && v > 0 {
				out = append(out, k.Amount(math.Round(v)))
			}
		}
		text := strings.Join(out, ", ")
		if !l.From.IsZero() {
			text = strings.TrimPrefix(text+", in since "+model.Day(l.From, d.now), ", ")
		}
		return text
	}
	return ""
}

// seen tells what says something of the machine: findings, what was made due, tags, what was
// closed.
func (d done) seen(e model.Entry) bool {
	return e.Finding != nil && !e.Finding.Reminds() || e.About() != "" || e.Due != nil ||
		e.Tag != nil
}

// list are the entries of a kind, in words.
func (d done) list(head string, of func(model.Entry) bool) Part {
	p := Part{Head: head}
	for _, l := range d.Lines {
		if of(l.Entry) {
			p.Rows = append(p.Rows, []string{d.clock(l.Entry.At),
				strings.TrimPrefix(l.Said(), strings.TrimSuffix(strings.ToLower(head), "s")+": ")})
		}
	}
	return p
}
