package command

import (
	"fmt"
	"strings"

	"bench/oilcan/model"
	"bench/oilcan/ui/theme"
)

// describer says entries in words. It must see a journal from its beginning, in order.
type describer struct {
	bench   *model.Bench
	facts   map[string]model.MachineFact // by entry id: the machine's description before it
	actions map[string]string            // action id -> its first dated entry
	titles  map[string]string            // session id -> title
}

func (a *app) describer(entries []model.Entry) (*describer, error) {
	b, err := a.bench()
	if err != nil {
		return nil, err
	}
	d := &describer{bench: b, facts: map[string]model.MachineFact{}, actions: map[string]string{}, titles: map[string]string{}}
	latest := map[string]model.MachineFact{}
	for _, e := range entries {
		switch {
		case e.Fact.Machine != nil:
			if was, ok := latest[e.Fact.Machine.ID]; ok {
				d.facts[e.ID] = was
			}
			latest[e.Fact.Machine.ID] = *e.Fact.Machine
		case e.Begun != nil:
			d.titles[e.Session] = e.Begun.Title
		}
		if _, ok := d.actions[e.Action]; !ok && model.ClassOf(e.Kind) == model.Dated {
			d.actions[e.Action] = e.ID
		}
	}
	return d, nil
}

// machine is the name of the machine an entry is about, "" for none.
func (d *describer) machine(e model.Entry) string {
	if m := d.bench.Machines[e.Machine]; m != nil {
		return theme.Safe(m.Name)
	}
	return ""
}

func (d *describer) prefix(e model.Entry) string {
	if name := d.machine(e); name != "" {
		return name + ": "
	}
	return ""
}

// sentence says what an entry says, safe to print.
func (d *describer) sentence(e model.Entry) string { return theme.Safe(d.words(e)) }

func (d *describer) words(e model.Entry) string {
	switch {
	case e.Fact.Machine != nil:
		return d.machineWords(e)
	case e.Begun != nil:
		return fmt.Sprintf("%s begun, %s", e.Begun.Title, count(len(e.Begun.Items), "procedure"))
	case e.Closed != nil:
		return d.closedWords(e)
	case e.Walk != nil:
		return walkWords(e.Walk)
	case e.Strike != nil:
		return fmt.Sprintf("struck %s: %s", short(d.actions[e.Strike.Action]), e.Strike.Why)
	case e.Settled != nil:
		return fmt.Sprintf("finding %s closed: %s", short(e.Settled.Finding), e.Settled.Why)
	case e.Tag != nil && e.Tag.Clear:
		return strings.TrimSuffix(fmt.Sprintf("tag %s cleared: %s", e.Tag.Kind, e.Tag.Why), ": ")
	case e.Tag != nil:
		return strings.TrimSuffix(fmt.Sprintf("tag %s: %s", e.Tag.Kind, e.Tag.Why), ": ")
	}
	return careWords(e)
}

func (d *describer) machineWords(e model.Entry) string {
	was, ok := d.facts[e.ID]
	if !ok {
		f := e.Fact.Machine
		return strings.TrimSuffix(fmt.Sprintf("added, %s duty: %s", f.Duty, joined(f.Features)), ": ")
	}
	if text := changesText(was, *e.Fact.Machine); text != "" {
		return text
	}
	return "described again, nothing changed"
}

func (d *describer) closedWords(e model.Entry) string {
	c := e.Closed
	title := d.titles[e.Session]
	if title == "" {
		title = "care session"
	}
	text := title + " closed"
	switch {
	case c.GivenUp:
		text = title + " given up"
	case c.Stopped:
		text = title + " stopped"
	}
	if c.State != "" {
		text += ", " + c.State
	}
	text += fmt.Sprintf("; hands %s min, waited %s", model.Number(c.Hands), model.Number(c.Waited))
	if c.Why != "" {
		text += ": " + c.Why
	}
	return text
}

// careWords says the facts of care, parts and the drawer.
func careWords(e model.Entry) string {
	switch {
	case e.Reading != nil:
		text := string(e.Reading.Meter) + " " + model.Number(e.Reading.Value)
		for _, x := range []struct {
			on   bool
			word string
		}{{e.Reading.NewMeter, "new counter"}, {e.Reading.Correct, "correction"}, {e.Reading.Estimate, "estimated"}} {
			if x.on {
				text += ", " + x.word
			}
		}
		return text
	case e.Care != nil:
		return doneWords(e.Care)
	case e.Swap != nil:
		if e.Swap.End == "unknown" {
			return e.Swap.Part + " renewed"
		}
		return e.Swap.Part + " renewed, the old one " + e.Swap.End
	case e.Stock != nil:
		return stockWords(e.Stock)
	case e.Finding != nil:
		text := fmt.Sprintf("finding, %s: %s", e.Finding.Kind, e.Finding.Text)
		if !e.Finding.Again.IsZero() {
			text += "; look again " + day(e.Finding.Again)
		}
		return text
	case e.Value != nil:
		return strings.TrimSpace(fmt.Sprintf("%s %s %s", e.Value.Name, model.Number(e.Value.Value), e.Value.Unit))
	case e.Due != nil:
		return strings.TrimSuffix(fmt.Sprintf("%s falls due: %s", e.Due.Procedure, e.Due.Because), ": ")
	}
	return string(e.Kind)
}

func doneWords(c *model.CareDone) string {
	text := c.Procedure
	switch c.Outcome {
	case "part":
		text += " done in part"
	case "proved":
		text += ": the proof owed is paid"
	case "unknown":
		return text + ": last time not known"
	default:
		text += " done"
	}
	for m, v := range c.Base {
		text += " at " + string(m) + " " + model.Number(v)
	}
	if c.Memory {
		text += ", as told"
	}
	if c.ProofOwed {
		text += ", proof owed"
	}
	if c.Minutes > 0 {
		text += fmt.Sprintf(", %s min", model.Number(c.Minutes))
	}
	if c.Why != "" {
		text += ": " + c.Why
	}
	return text
}

func stockWords(s *model.StockMove) string {
	text := "drawer: " + s.Part
	switch {
	case s.Counted != nil:
		text += " counted, " + model.Number(*s.Counted)
	case s.Change > 0:
		text += " +" + model.Number(s.Change)
	case s.Change < 0:
		text += " " + model.Number(s.Change)
	}
	if s.Why != "" && s.Counted == nil && s.Change != 0 {
		text += " " + s.Why
	}
	if s.Minimum != nil {
		text += ", minimum " + model.Number(*s.Minimum)
	}
	if s.Lead != nil {
		text += ", lead time " + count(*s.Lead, "day")
	}
	if s.Pack != nil {
		text += fmt.Sprintf(", pack of %d", *s.Pack)
	}
	return text
}

func walkWords(w *model.Walked) string {
	parts := []string{}
	for _, s := range []string{w.ID, w.Step} {
		if s != "" {
			parts = append(parts, s)
		}
	}
	text := strings.TrimSpace(strings.Join(parts, "/") + " " + w.What)
	if w.Variable != "" {
		text += " " + string(w.Variable)
	}
	if w.Item != "" {
		text += " " + w.Item
	}
	if w.Answer != "" {
		text += " " + w.Answer
	} else if w.Number != nil {
		text += " " + strings.TrimSpace(model.Number(*w.Number)+" "+w.Unit)
	}
	if w.Why != "" {
		text += ": " + w.Why
	}
	return text
}

// count writes a number with its thing: 1 day, 3 days.
func count(n int, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return fmt.Sprintf("%d %ss", n, thing)
}
