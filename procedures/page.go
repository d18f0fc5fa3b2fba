package procedures

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"bench/oilcan/model"
)

// pageWidth is the width of a page in characters, so that it fits a narrow terminal and a sheet.
const pageWidth = 76

// pager writes a page line by line.
type pager struct {
	b strings.Builder
	p *model.Procedure
}

// Page gives a procedure as plain text a person can read in a terminal or print: what it is for,
// when it is due, the state it needs and leaves, what to lay out, the cautions, and the numbered
// steps with what each demands. No line is wider than 76 characters.
func Page(p *model.Procedure) string {
	g := &pager{p: p}
	g.wrap("", "", p.Title)
	g.line(strings.Repeat("=", min(pageWidth, max(1, utf8.RuneCountInString(p.Title)))))
	g.wrap("", "", p.Purpose)
	g.line("")
	g.facts()
	g.when()
	g.state()
	g.layOut()
	g.cautions()
	g.heading("Steps")
	for i := range p.Steps {
		g.step(fmt.Sprintf("%2d. ", i+1), &p.Steps[i])
	}
	if len(p.Later) > 0 {
		g.heading("Owed afterwards")
		for i := range p.Later {
			g.step("  - ", &p.Later[i].Step, laterWords(p.Later[i].When))
		}
	}
	if len(p.Symptoms) > 0 {
		g.heading("May cure")
		for _, s := range p.Symptoms {
			g.wrap("  ", "  ", s.Name+" ("+s.Weight+")")
		}
	}
	return g.b.String()
}

func (g *pager) line(s string) { g.b.WriteString(s + "\n") }

func (g *pager) heading(s string) {
	g.line("")
	g.line(s)
}

// wrap writes a text broken at spaces, the first line after first, the others after rest.
func (g *pager) wrap(first, rest, text string) {
	if text == "" {
		return
	}
	line, used := first, utf8.RuneCountInString(first)
	fresh := true
	for w := range strings.FieldsSeq(text) {
		n := utf8.RuneCountInString(w)
		if !fresh && used+1+n > pageWidth {
			g.line(line)
			line, used, fresh = rest, utf8.RuneCountInString(rest), true
		}
		if !fresh {
			line, used = line+" ", used+1
		}
		for used+n > pageWidth { // a word wider than the page
			cut := pageWidth - used
			r := []rune(w)
			g.line(line + string(r[:cut]))
			w, n = string(r[cut:]), n-cut
			line, used = rest, utf8.RuneCountInString(rest)
		}
		line, used, fresh = line+w, used+n, false
	}
	g.line(line)
}

// facts writes id, kind, place, minutes and what goes with it.
func (g *pager) facts() {
	p := g.p
	kind := string(p.Kind)
	if p.Kind == model.SetUp {
		kind = "set-up action"
	}
	if p.Yours {
		kind += ", your own file"
	}
	g.wrap("Id       ", "         ", p.ID+" ("+kind+")")
	var rungs []string
	for _, r := range p.Rung {
		rungs = append(rungs, string(r.Is)+onlyWords(p, r.Only))
	}
	g.wrap("Place    ", "         ", strings.Join(rungs, "; "))
	g.wrap("Why here ", "         ", p.Why)
	mins := "hands " + plain(p.HandsOn) + " min"
	if p.First > 0 {
		mins += ", first time " + plain(p.First)
	}
	if p.Waiting > 0 {
		mins += ", waiting " + plain(p.Waiting)
	}
	g.wrap("Time     ", "         ", mins)
	if len(p.Needs) > 0 {
		g.wrap("For      ", "         ", "machines with "+strings.Join(model.Words(p.Needs), ", "))
	}
	if len(p.NeedsAny) > 0 {
		g.wrap("For      ", "         ", "machines with "+model.Listed(model.Words(p.NeedsAny), "or"))
	}
	g.wrap("After    ", "         ", strings.Join(p.After, ", "))
	g.wrap("Does too ", "         ", strings.Join(p.CountsAs, ", "))
	g.wrap("Proof    ", "         ", strings.Join(p.Proof, ", "))
}

// when writes what makes it due.
func (g *pager) when() {
	p := g.p
	if len(p.Intervals)+len(p.Triggers) == 0 {
		return
	}
	g.heading("When")
	for _, v := range p.Intervals {
		s := "after " + bandWords(v.Low, v.High) + " " + v.Meter.Unit()
		if v.Production != nil {
			s += ", in production " + bandWords(v.Production.Low, v.Production.High)
			if v.Production.Basis != "" {
				s += " (" + v.Production.Basis + ")"
			}
		}
		if v.Once {
			s += ", once"
		}
		if v.When != nil {
			s += fmt.Sprintf(", where %s %% or more of the last 30 days' hours are %s",
				plain(v.When.Share*100), v.When.Meter.Unit())
		}
		g.wrap("  ", "    ", s+onlyWords(p, v.Only)+" ("+v.Basis+")")
	}
	for _, t := range p.Triggers {
		g.wrap("  ", "    ", "after "+model.Listed(t.Done, "or")+" was done"+onlyWords(p, t.Only))
	}
}

// state writes what it needs and what it leaves.
func (g *pager) state() {
	p := g.p
	g.heading("State")
	needs := spell(p.Require)
	if len(p.Require) == 0 {
		needs = "as it is"
	}
	for _, x := range p.RequireFor {
		needs += "; " + spell(x.Require) + onlyWords(p, x.Only)
	}
	g.wrap("  needed ", "         ", needs)
	var left []string
	if p.Change != nil {
		left = append(left, fmt.Sprintf("%s %s, was %s", p.Change.Variable, p.Change.To,
			p.Change.From))
	}
	for _, l := range p.Leave {
		left = append(left, string(l.Variable)+" "+l.Is+onlyWords(p, l.Only))
	}
	if len(left) == 0 {
		left = []string{"as it was"}
	}
	g.wrap("  left   ", "         ", strings.Join(left, "; "))
	if len(p.Owns) > 0 {
		g.wrap("  owns   ", "         ", "an exception for "+
			strings.Join(model.Words(p.Owns), " and ")+", in the steps marked so")
	}
}

// layOut writes tools, supplies and gear.
func (g *pager) layOut() {
	p := g.p
	if len(p.Tools)+len(p.Supplies)+len(p.Gear) == 0 {
		return
	}
	g.heading("Lay out")
	for _, t := range p.Tools {
		s := t.Name
		var fits []string
		for _, f := range t.Fits {
			fit := f.Head + " " + f.Size
			if f.For != "" {
				fit += ", " + f.For
			}
			fits = append(fits, fit)
		}
		if len(fits) > 0 {
			s += " (" + strings.Join(fits, "; ") + ")"
		}
		g.wrap("  ", "    ", s+onlyWords(p, t.Only))
	}
	for _, s := range p.Supplies {
		unit := s.Unit
		if unit != "" {
			unit = " " + unit
		}
		g.wrap("  ", "    ", s.Part+", "+plain(s.Quantity)+unit+g.counted(s)+onlyWords(p, s.Only))
	}
	if len(p.Gear) > 0 {
		g.wrap("  ", "    ", "wear: "+strings.Join(p.Gear, ", "))
	}
}

// counted says by which steps a supply is booked.
func (g *pager) counted(s model.Supply) string {
	if len(s.Count) == 0 {
		return ""
	}
	return ", or as many as counted at " + g.numbers(s.Count)
}

// cautions writes each hazard with the steps it stands before.
func (g *pager) cautions() {
	p := g.p
	if len(p.Cautions) == 0 {
		return
	}
	g.heading("Cautions")
	for _, q := range p.Cautions {
		s := q.Harm + " " + q.Avoid
		if q.Basis != "" {
			s += " (" + q.Basis + ")"
		}
		if len(q.Before) > 0 {
			s += " Before " + g.numbers(q.Before) + "."
		}
		g.wrap("  "+q.Signal+": ", "    ", s+onlyWords(p, q.Only))
	}
}

// number names a step by its number on the page.
func (g *pager) number(name string) string {
	for i := range g.p.Steps {
		if g.p.Steps[i].Name == name {
			return fmt.Sprintf("step %d", i+1)
		}
	}
	return name
}

// numbers names several steps by their numbers.
func (g *pager) numbers(list []string) string {
	if len(list) == 1 {
		return g.number(list[0])
	}
	var out []string
	for _, name := range list {
		out = append(out, strings.TrimPrefix(g.number(name), "step "))
	}
	return "steps " + model.Listed(out, "and")
}
