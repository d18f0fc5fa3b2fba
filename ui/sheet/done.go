package sheet

import (
	"time"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
	"bench/oilcan/ui/book"
)

// Done makes the sheet of a session that was held: what it came to, and every entry of it. sum is
// nil where its steps were not walked here.
func Done(m *model.Machine, sum *walk.Summary, lines []book.Line, now time.Time) Doc {
	d := Doc{Title: m.Name + ": care session"}
	var by []string
	for _, l := range lines {
		if e := l.Entry; e.By != "" && (len(by) == 0 || by[len(by)-1] != e.By) {
			by = append(by, e.By)
		}
	}
	first, last := lines[0].Entry, lines[len(lines)-1].Entry
	d.Under = []string{"from " + model.Stamp(first.At, now) + " to " + model.Stamp(last.At, now) +
		", by " + model.Listed(by, "and")}
	if late := last.Written.Sub(last.At); late > writtenLate {
		d.Under = append(d.Under, "written later, on "+model.Stamp(last.Written, now))
	}
	came := Part{Head: "What it came to"}
	add := func(name string, texts ...string) {
		for _, t := range texts {
			if t != "" {
				came.Rows = append(came.Rows, []string{name, t})
				name = ""
			}
		}
	}
	if b := first.Begun; b != nil {
		add("as it stood", stateText(b.Stood))
	}
	if c := last.Closed; c != nil {
		add("left", c.State, stateText(c.Stood), walk.LedgerLine(c.Ledger))
		add("why", c.Why)
		add("minutes", "hands "+model.Minutes(c.Hands)+" min, waited "+model.Minutes(c.Waited)+" min")
	}
	if sum != nil {
		add("done", sum.Done...)
		add("renewed", sum.Swapped...)
		add("left out", sum.Left...)
		for _, r := range sum.Readings {
			add("read", r.String())
		}
		add("counted", sum.Counted)
		add("found", sum.Findings...)
	}
	d.Parts = []Part{came, {Head: "Entries", Rows: rows(told(lines), now)}}
	d.Foot = []string{notCertified}
	return d
}

// told are the lines that a person said or saw, a step with how it was passed: what was laid out
// anew, and which page was shown, is the program's own.
func told(lines []book.Line) []book.Line {
	var out []book.Line
	for _, l := range lines {
		w := l.Entry.Walk
		switch {
		case w == nil:
		case w.What == walk.Planned || w.What == walk.PageUp:
			continue
		case w.How == model.AsKnown:
			l.Text += " (known from before)"
		case w.How == model.AsPage:
			l.Text += " (with its page)"
		case w.How == model.OnPaper:
			l.Text += " (told from paper)"
		case w.Auto:
			l.Text += " (by the clock)"
		}
		out = append(out, l)
	}
	return out
}

// writtenLate is from when on an entry says when it was written.
const writtenLate = time.Hour

// stateText says how a machine stood, as far as known.
func stateText(c model.Condition) string {
	var out []string
	for _, v := range model.Variables {
		if x := c[v]; x != "" {
			out = append(out, string(v)+" "+x)
		}
	}
	return model.Listed(out, "and")
}
