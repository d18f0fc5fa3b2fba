package procedures

import (
	"fmt"
	"math"
	"strings"

	"bench/oilcan/model"
)

// SheetStep is one step as a sheet of paper has it: what to do, what it demands, and what follows
// where that is not so.
type SheetStep struct {
	Do      string
	Asks    string   // what is to be so or written; "" where a tick is enough
	Blank   bool     // something is written behind Asks
	Unit    string   // of what is written
	Choices []string // of which one is ticked
	Screw   string   // how tight
	Else    []string
}

// Sheet gives the steps of a procedure resolved for one machine; they name each other by number,
// from 1.
func Sheet(p *model.Procedure) []SheetStep {
	g := &pager{p: p}
	var out []SheetStep
	for i := range p.Steps {
		s := &p.Steps[i]
		// what hangs on the machine is resolved; only what hangs on an earlier answer is said
		var only model.Only
		if s.Only.Step != "" && s.Only.Setting == "" {
			only = model.Only{Step: s.Only.Step, Is: s.Only.Is}
		}
		x := SheetStep{Do: s.Do + onlyWords(p, only), Screw: screwWords(s)}
		g.ask(&x, s)
		x.Else = append(x.Else, g.misses("If not", s.Miss)...)
		for _, o := range s.Options {
			x.Else = append(x.Else, g.misses("If "+o.Is, o.Miss)...)
		}
		out = append(out, x)
	}
	return out
}

// ask says what passes a step on paper, where nobody types and no ledger is kept but on it.
func (g *pager) ask(x *SheetStep, s *model.Step) {
	x.Asks = s.Ask
	add := func(text string) {
		x.Asks = strings.TrimPrefix(strings.TrimSuffix(x.Asks, "?")+": "+text, ": ")
	}
	switch s.Gate {
	case model.State:
		if s.Variable == model.Power && s.Value == model.Unplugged {
			add("the id on the tag of the plug in your hand")
			x.Blank = true
			return
		}
		add(fmt.Sprintf("%s is %s", s.Variable, s.Value))
	case model.Wait:
		add(strings.TrimSuffix(g.waitWords(s), ".") + "; over at")
		x.Blank = true
	case model.Measure:
		add(s.Quantity + g.rangeWords(s) + optionalWords(s))
		x.Blank, x.Unit = true, s.Unit
	case model.Choice:
		for _, o := range s.Options {
			x.Choices = append(x.Choices, o.Is)
		}
	case model.Count:
		words := g.countWords(s)
		if s.Equal != nil && s.Equal.Ledger != "" {
			words = ", as many as came out or went in"
		}
		add("how many" + words + optionalWords(s))
		x.Blank = true
	case model.Note:
		add("note")
		x.Blank = true
	}
}

// screwWords says how tight the screw of a step goes; "" where it turns none.
func screwWords(s *model.Step) string {
	f := s.Fastener
	if f == nil {
		return ""
	}
	t := f.Ceiling()
	text := f.Head + " screw " + f.Size + " in " + f.Thread
	switch {
	case t.Rule == "":
		return text
	case t.Ceiling > 0:
		return fmt.Sprintf("%s: never above %.2f N·m (%s). %s: %s.", text,
			math.Floor(t.Ceiling*100)/100, t.Source, upper(t.Rule), t.Why)
	}
	return text + ": " + lower(t.Rule) + ": " + t.Why + "."
}

// misses says what follows a miss, and what it gives way to, a sentence or two each.
func (g *pager) misses(head string, m *model.Miss) []string {
	var out []string
	for ; m != nil; m, head = m.Else, "If that does not help" {
		out = append(out, head+": "+g.missWords(m)+joinSay(m.Say))
	}
	return out
}
