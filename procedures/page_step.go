package procedures

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"bench/oilcan/model"
)

func bandWords(low, high float64) string {
	if low == high {
		return plain(low)
	}
	return plain(low) + " to " + plain(high)
}

// onlyWords says in brackets when something applies; "" where it always does.
func onlyWords(p *model.Procedure, o model.Only) string {
	var parts []string
	if len(o.Features) > 0 {
		parts = append(parts, "with "+model.Listed(model.Words(o.Features), "or"))
	}
	if len(o.Unless) > 0 {
		parts = append(parts, "without "+model.Listed(model.Words(o.Unless), "or"))
	}
	if o.Setting != "" {
		parts = append(parts, "where "+o.Setting+" is "+model.Listed(o.Is, "or"))
	}
	if o.Step != "" {
		g := &pager{p: p}
		parts = append(parts, "where "+g.number(o.Step)+" was "+model.Listed(o.Is, "or"))
	}
	if len(parts) == 0 {
		return ""
	}
	return " [" + strings.Join(parts, ", ") + "]"
}

// laterWords says when a step is owed.
func laterWords(when string) string {
	switch when {
	case model.LaterProof:
		return "once power is back"
	case model.LaterNextDay:
		return "the next day"
	}
	return when + " later"
}

// step writes one step: the instruction, why, what passes it, and what follows if it does not.
func (g *pager) step(mark string, s *model.Step, when ...string) {
	rest := strings.Repeat(" ", len(mark))
	do := s.Do + onlyWords(g.p, s.Only)
	if len(when) > 0 {
		do = upper(when[0]) + ": " + do
	}
	g.wrap(mark, rest, do)
	if s.Why != "" && s.Gate != model.Wait {
		g.wrap(rest, rest, "("+s.Why+")")
	}
	gate := g.gateWords(s)
	if s.Own {
		gate += " Under the owned exception."
	}
	g.wrap(rest+"> ", rest+"  ", gate)
	g.wrap(rest+"> ", rest+"  ", screwWords(s))
	g.missLines(rest, "If not", s.Miss)
	for _, o := range s.Options {
		g.missLines(rest, "If "+o.Is, o.Miss)
	}
}

// upper makes the first letter a capital.
func upper(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	if n == 0 {
		return s
	}
	return string(unicode.ToUpper(r)) + s[n:]
}

// lower makes the first letter a small one.
func lower(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	if n == 0 {
		return s
	}
	return string(unicode.ToLower(r)) + s[n:]
}

// gateWords says what passes a step.
func (g *pager) gateWords(s *model.Step) string {
	ask := s.Ask
	if ask != "" {
		ask += ": "
	}
	switch s.Gate {
	case model.State:
		if s.Variable == model.Power && s.Value == model.Unplugged {
			return ask + "type the id on the tag of the plug in your hand."
		}
		return ask + fmt.Sprintf("%s must be %s.", s.Variable, s.Value)
	case model.Wait:
		return g.waitWords(s)
	case model.Measure:
		return ask + "type " + s.Quantity + " in " + s.Unit + g.rangeWords(s) + optionalWords(s) +
			"."
	case model.Choice:
		var list []string
		for _, o := range s.Options {
			list = append(list, o.Is)
		}
		return ask + model.Listed(list, "or") + "."
	case model.Count:
		return ask + "type how many" + g.countWords(s) + optionalWords(s) + "."
	case model.Note:
		return ask + "type a note, or - for none."
	}
	return ask + "tick when done."
}

// optionalWords says that a value may be left open.
func optionalWords(s *model.Step) string {
	if s.Optional {
		return ", or not read"
	}
	return ""
}

// waitWords says how long, from when, and what may go on meanwhile.
func (g *pager) waitWords(s *model.Step) string {
	t := fmt.Sprintf("Wait %d s", s.Seconds)
	if s.Seconds >= 60 && s.Seconds%60 == 0 {
		t = fmt.Sprintf("Wait %d min", s.Seconds/60)
	}
	if s.Clock != "" {
		t += ", counted from the " + map[string]string{"airing": "last alcohol or gas",
			"cooling": "heaters at zero", "unplugged": "plug pulled"}[s.Clock]
	}
	if s.Why != "" {
		t += ": " + s.Why
	}
	switch s.Before {
	case "", "next":
		return t + "."
	case "power":
		return t + ". Other work may go on, but no power before it is over."
	}
	return t + ". Other work may go on until " + g.number(s.Before) + "."
}

// rangeWords says what a measure must lie in.
func (g *pager) rangeWords(s *model.Step) string {
	switch {
	case s.Near != nil:
		ref := g.number(s.Near.Ref)
		if set, ok := strings.CutPrefix(s.Near.Ref, "setting:"); ok {
			ref = "setting " + set
		} else if s.Near.Ref == "last" {
			ref = "the last record"
		}
		if s.Near.Share > 0 {
			return fmt.Sprintf(", within %s %% of %s", plain(s.Near.Share*100), ref)
		}
		return fmt.Sprintf(", within %s of %s", plain(s.Near.Plus), ref)
	case s.Low != nil && s.High != nil:
		return ", " + bandWords(*s.Low, *s.High)
	case s.Low != nil:
		return ", at least " + plain(*s.Low)
	case s.High != nil:
		return ", at most " + plain(*s.High)
	}
	return ", any value"
}

// countWords says what a count must be.
func (g *pager) countWords(s *model.Step) string {
	e := s.Equal
	switch {
	case e != nil && e.Number != nil:
		return fmt.Sprintf(", must be %d", *e.Number)
	case e != nil && e.Count != "":
		return ", as many as at " + g.number(e.Count)
	case e != nil && e.Setting != "":
		return ", as many as setting " + e.Setting + " says"
	case e != nil:
		return ", as many " + e.Ledger + " as the ledger holds"
	case s.Min != nil && s.Max != nil:
		return ", " + bandWords(float64(*s.Min), float64(*s.Max))
	case s.Min != nil:
		return fmt.Sprintf(", at least %d", *s.Min)
	case s.Max != nil:
		return fmt.Sprintf(", at most %d", *s.Max)
	}
	return ""
}

// missLines writes what follows a miss, and what it gives way to.
func (g *pager) missLines(rest, head string, m *model.Miss) {
	for _, l := range g.misses(head, m) {
		g.wrap(rest+"- ", rest+"  ", l)
	}
}

// joinSay puts what a miss says behind its words.
func joinSay(say string) string {
	if say == "" {
		return "."
	}
	return ". " + say
}

// missWords says where a miss leads.
func (g *pager) missWords(m *model.Miss) string {
	on := ""
	if m.Step != "" {
		on = ", go on at " + g.number(m.Step)
	}
	if m.Idle {
		on += ", nothing printed before"
	}
	switch m.Then {
	case model.ThenStop:
		return "stop, unplug, tag, close without power"
	case model.ThenWait:
		return fmt.Sprintf("not yet, again after %d s", m.Seconds)
	case model.ThenRedo:
		tries := m.Tries
		if tries == 0 {
			tries = 3
		}
		return fmt.Sprintf("back to %s, at most %d times", g.number(m.Step), tries)
	case model.ThenPart:
		return "wait for a part" + on
	case model.ThenFind:
		return "find the missing piece, no power before"
	case model.ThenLeftOver:
		return "find its place, no power before"
	case model.ThenPro:
		return "leave it to a qualified person" + on
	case model.ThenLater:
		return "leave it for later" + on
	case model.ThenDue:
		return "go on, " + strings.Join(m.Procedures, ", ") + " is now due"
	case model.ThenAdd:
		return "go on, " + strings.Join(m.Procedures, ", ") + " joins this session"
	}
	return "go on, noted as found"
}
