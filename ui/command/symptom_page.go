package command

import (
	"fmt"

	"bench/oilcan/model"
	"bench/oilcan/model/symptom"
	"bench/oilcan/ui/action"
	"bench/oilcan/ui/session"
	"bench/oilcan/ui/theme"
)

// symptomJSON is what is said of a symptom, as programs read it.
type symptomJSON struct {
	Symptom string     `json:"symptom"` // its id
	Title   string     `json:"title"`
	Answer  *string    `json:"answer"`   // to its question; null where none was given
	And     *string    `json:"and"`      // id of the second symptom; null for none
	Machine *string    `json:"machine"`  // its name; null for any
	Ask     *string    `json:"ask"`      // its question; null where it asks none
	Answers []string   `json:"answers"`  // that can be given
	Stop    []string   `json:"stop"`     // what to do now; null where it is no stop
	Stopped bool       `json:"stopped"`  // the machine carries its tag
	Normal  *string    `json:"normal"`   // why it is no fault; null where it may be one
	NotCare []string   `json:"not_care"` // causes no care cures, the likeliest first
	Outside float64    `json:"outside"`  // how likely it is one of those, 0 to 1
	Says    []string   `json:"says"`     // what follows at once
	Care    []careJSON `json:"care"`     // the likeliest first
}

// careJSON is one care that may cure it.
type careJSON struct {
	Care    string   `json:"care"`  // id
	Start   *string  `json:"start"` // the procedure to begin with; null where it is done by hand
	Title   string   `json:"title"`
	HandsOn float64  `json:"handson"` // minutes of hands
	Grade   string   `json:"grade"`   // high | medium | low, as the weight stands in the library
	Weight  float64  `json:"weight"`  // with all that is known taken in
	Share   float64  `json:"share"`   // of all weights, those of no care too, 0 to 1
	First   bool     `json:"first"`   // it comes before anything else
	Begun   bool     `json:"begun"`   // the begun session has it still to come
	Reasons []string `json:"reasons"` // what moved the weight
}

func textOrNil(s string) *string {
	if s == "" {
		return nil
	}
	return &s
}

func nameOrNil(m *model.Machine) *string {
	if m == nil {
		return nil
	}
	return &m.Name
}

func symptomRow(heard []symptom.Heard, m *model.Machine, r symptom.Result) symptomJSON {
	s := heard[0].Symptom
	row := symptomJSON{Symptom: s.ID, Title: s.Title, Answer: textOrNil(heard[0].Answer),
		Machine: nameOrNil(m), Ask: textOrNil(s.Ask),
		Answers: []string{}, Normal: textOrNil(s.Normal), NotCare: append([]string{},
			r.NotCare...), Outside: r.Outside, Says: append(
			[]string{}, r.Says...), Care: []careJSON{}}
	if len(heard) > 1 {
		row.And = &heard[1].Symptom.ID
	}
	for _, x := range s.AnswersOn(m) {
		row.Answers = append(row.Answers, x.Is)
	}
	for _, l := range r.Lines {
		row.Care = append(row.Care, careJSON{l.Cause, textOrNil(l.Start), l.Title, l.HandsOn,
			l.Grade, l.Weight, l.Share, l.First, l.Begun, l.Reasons})
	}
	return row
}

// symptomPage writes a ranking for a person.
type symptomPage struct {
	*app
	m     *model.Machine
	heard []symptom.Heard
	r     symptom.Result
}

func (p symptomPage) write() {
	if p.m != nil {
		if c, asked := symptom.Pending(p.m); asked {
			p.wrapped("", session.OutcomeQuestion(c, names(p.app))+" Say it with oilcan symptom "+
				c.Symptoms[0]+" "+action.Typed(p.m.Name)+" --cured "+c.Procedure+
				", or --not-cured.")
			p.say("")
		}
	}
	for i, h := range p.heard {
		head := p.th.Text.Strong.On(h.Symptom.Title)
		if i == 0 && p.m != nil {
			head = p.th.Text.Strong.On(p.m.Name) + "   " + head
		}
		p.say("%s", head)
		p.wrapped("  ", h.Symptom.Seen)
		switch {
		case h.Symptom.Ask == "":
		case h.Answer != "":
			p.wrapped("  ", h.Symptom.Ask+" "+h.Answer)
		default:
			p.wrapped("  ", h.Symptom.Ask+" Answer it with "+
				map[bool]string{true: "--answer", false: "--and-answer"}[i == 0]+":")
			for n, x := range h.Symptom.AnswersOn(p.m) {
				p.say("    %d  %s", n+1, x.Is)
			}
		}
	}
	if p.r.Normal != nil {
		p.say("")
		p.wrapped("  ", p.r.Normal.Normal)
		return
	}
	for _, l := range p.r.Says {
		p.say("")
		p.wrapped("", l)
	}
	p.say("")
	p.say("causes maintenance won't fix, %d %%", session.Percent(p.r.Outside))
	for _, l := range p.r.NotCare {
		p.wrapped("  ", l)
	}
	p.care()
}

func (p symptomPage) care() {
	p.say("")
	if len(p.r.Lines) == 0 {
		p.say("no care in the library fits what this machine has: oilcan machine edit says more of it")
		return
	}
	p.say("care, the likeliest first")
	for i, l := range p.r.Lines {
		name := l.Start
		if name == "" {
			name = "by hand"
		}
		share := fmt.Sprintf("%d %%", session.Percent(l.Share))
		if l.First {
			share = "first"
		}
		p.say("%3d %5s  %s  %s min  %s", i+1, share, p.th.Text.Strong.On(name),
			model.Minutes(l.HandsOn), l.Title)
		p.wrapped("           ", session.Reasons(l))
	}
	p.say("")
	for _, l := range p.r.Lines {
		if l.Start == "" {
			continue
		}
		if p.m == nil {
			p.say("for one machine, by its gauges and features: oilcan symptom %s MACHINE",
				p.heard[0].Symptom.ID)
			return
		}
		if p.m.Session != "" {
			p.say("a session is begun: oilcan walk %s --resume goes on with it",
				action.Typed(p.m.Name))
			return
		}
		p.say("begin      oilcan walk %s --only %s", action.Typed(p.m.Name), l.Start)
		p.say("afterwards oilcan symptom %s %s --cured %s, or --not-cured", p.heard[0].Symptom.ID,
			action.Typed(p.m.Name), l.Cause)
		return
	}
}

// wrapped says a text broken at 76 cells, every line after the indent.
func (p symptomPage) wrapped(indent, text string) {
	for _, l := range theme.Wrap(text, 76-len(indent)) {
		p.say("%s%s", indent, l)
	}
}
