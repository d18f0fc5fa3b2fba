// Package book says the entries of the journal in words, as a person reads them. It is pure.
package book

import (
	"cmp"
	"slices"
	"strings"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/ui/action"
	"bench/oilcan/ui/theme"
)

// NoCertificate is said once where a record is opened or printed.
const NoCertificate = "This is a record of the bench, and no certified one."

// WrittenLate is from when on an entry says when it was written.
const WrittenLate = time.Hour

// Line is one entry in words, safe to draw.
type Line struct {
	Entry  model.Entry
	Text   string
	Struck bool   // by a strike that itself stands
	Why    string // what that says
}

// Said is the entry in words, with the reason where it was struck.
func (l Line) Said() string {
	switch {
	case l.Struck && l.Why != "":
		return "(struck: " + l.Why + ") " + l.Text
	case l.Struck:
		return "(struck) " + l.Text
	}
	return l.Text
}

// Lines says entries in words, in the order they happened, with days in the zone of now. They may
// be given in any order; all that is known of a machine or session is needed to say what changed.
func Lines(entries []model.Entry, names action.Names, now time.Time) []Line {
	es := slices.Clone(entries)
	slices.SortStableFunc(es, func(a, b model.Entry) int { return cmp.Compare(a.Seq, b.Seq) })
	d := describer{now: now, names: names, texts: map[string]string{},
		before: map[string]model.MachineFact{}, titles: map[string]string{}}
	struck := model.Struck(es)
	why := reasons(es, struck)
	out := make([]Line, 0, len(es))
	for _, e := range es {
		text := theme.Safe(d.words(e))
		if _, ok := d.texts[e.Action]; !ok && model.ClassOf(e.Kind) == model.Dated {
			d.texts[e.Action] = text
		}
		d.texts[e.ID] = text
		l := Line{Entry: e, Text: text}
		if struck[e.Action] && model.ClassOf(e.Kind) == model.Dated {
			l.Struck, l.Why = true, why[e.Action]
		}
		out = append(out, l)
	}
	slices.SortStableFunc(out, func(a, b Line) int { return a.Entry.At.Compare(b.Entry.At) })
	return out
}

// reasons says of actions why they were struck, by the latest strike that stands.
func reasons(es []model.Entry, struck map[string]bool) map[string]string {
	out := map[string]string{}
	for _, e := range es {
		if e.Strike != nil && !struck[e.Action] {
			out[e.Strike.Action] = theme.Safe(e.Strike.Why)
		}
	}
	return out
}

// describer remembers what later entries refer to.
type describer struct {
	now    time.Time                    // for the zone
	names  action.Names                 // of procedures and symptoms
	texts  map[string]string            // by entry and by action
	before map[string]model.MachineFact // machine id -> description so far
	titles map[string]string            // session id -> title
}

// cares is how many of the blocks a session begins with are care, not what opens and ends it.
func cares(items []model.BlockRef) (n int) {
	for _, r := range items {
		if r.ID != model.AsFound && r.ID != model.CloseOut {
			n++
		}
	}
	return n
}

func (d describer) words(e model.Entry) string {
	switch {
	case e.Fact.Machine != nil:
		return d.machine(*e.Fact.Machine)
	case e.Begun != nil:
		d.titles[e.Session] = e.Begun.Title
		return e.Begun.Title + " begun, " + model.Counted(cares(e.Begun.Items), "procedure")
	case e.Closed != nil:
		return d.closed(e)
	case e.Walk != nil:
		return d.walked(e.Walk)
	case e.Strike != nil:
		return "struck \"" + d.of(e.Strike.Action) + "\": " + e.Strike.Why
	case e.Settled != nil:
		return "closed \"" + d.of(e.Settled.Finding) + "\": " + e.Settled.Why
	case e.Moved != nil:
		return Because("moved \""+d.of(e.Moved.Finding)+"\" to "+model.Day(e.Moved.Again, d.now),
			e.Moved.Why)
	case e.Tag != nil && e.Tag.Clear:
		return Because("tag "+string(e.Tag.Kind)+" cleared", e.Tag.Why)
	case e.Tag != nil:
		return Because("tag "+string(e.Tag.Kind), e.Tag.Why)
	}
	return d.dated(e)
}

func (d describer) of(id string) string {
	if t := d.texts[id]; t != "" {
		return t
	}
	return "an earlier entry"
}

// Because adds a reason to a text, where there is one.
func Because(text, why string) string {
	if why == "" {
		return text
	}
	return text + ": " + why
}

// machine says what a description changed.
func (d describer) machine(f model.MachineFact) string {
	was, known := d.before[f.ID]
	d.before[f.ID] = f
	if !known {
		return "added, " + string(f.Duty) + " duty"
	}
	if text := Changes(was, f, d.now); text != "" {
		return text
	}
	return "described again"
}

func (d describer) closed(e model.Entry) string {
	c, title := e.Closed, d.titles[e.Session]
	if title == "" {
		title = "care session"
	}
	switch {
	case c.GivenUp:
		title += " given up"
	case c.Stopped:
		title += " stopped"
	default:
		title += " closed"
	}
	if c.State != "" {
		title += ", " + c.State
	}
	return Because(title+"; hands "+model.Number(c.Hands)+" min, waited "+model.Number(c.Waited),
		c.Why)
}

// dated says care, parts, meters and the drawer.
func (d describer) dated(e model.Entry) string {
	switch {
	case e.Reading != nil:
		text := string(e.Reading.Meter) + " " + model.Number(e.Reading.Value)
		switch {
		case e.Reading.NewMeter:
			text += ", a new counter"
		case e.Reading.Correct:
			text += ", a correction"
		}
		return text
	case e.Care != nil:
		return d.cared(e.Care)
	case e.Swap != nil && e.Swap.End == model.EndUnknown:
		return e.Swap.Part + " renewed"
	case e.Swap != nil:
		return e.Swap.Part + " renewed, the old one " + string(e.Swap.End)
	case e.Stock != nil:
		return stocked(e.Stock, d.names.Currency)
	case e.Finding != nil:
		return d.found(e.Finding)
	case e.Value != nil:
		return valued(e.Value)
	case e.Outcome != nil:
		return d.judged(e.Outcome)
	case e.Booked != nil:
		return "booked to print: " + printJob(e.Booked)
	case e.Printed != nil:
		return "printed " + printJob(e.Printed)
	case e.Failed != nil && e.Failed.Symptom == "":
		return "print failed: " + e.Failed.Note
	case e.Failed != nil:
		return Because("print failed, "+d.names.Symptom(e.Failed.Symptom), e.Failed.Note)
	case e.Due != nil:
		return Because(d.names.Procedure(e.Due.Procedure)+": is now due", e.Due.Because)
	}
	return string(e.Kind)
}

// found says what was seen, or what is to be done later: that is a reminder, and nothing was found.
func (d describer) found(f *model.Found) string {
	head := "found: "
	if f.Reminds() {
		head = "reminder: "
	}
	if f.Again.IsZero() {
		return head + f.Text
	}
	return head + strings.TrimSuffix(f.Text, ".") + "; " + f.DayWord() + " " +
		model.Day(f.Again, d.now)
}

// Met is how care met its part, in words.
func Met(word string) string {
	if word == model.MetExpected {
		return "as expected"
	}
	return word
}

func (d describer) cared(c *model.CareDone) string {
	text := d.names.Procedure(c.Procedure)
	switch c.Outcome {
	case model.OutcomePart:
		text += ": done in part"
	case model.OutcomeProved:
		text += ": the proof owed is paid"
	case model.OutcomeUnknown:
		return text + ": last time not known"
	case model.OutcomeOriginal:
		return text + ": never since the machine was new"
	default:
		text += ": done"
	}
	if c.Memory {
		text += ", as told"
	}
	for _, meter := range model.TypedMeters {
		if v, ok := c.Base[meter]; ok && c.Undated {
			text += " at " + meter.Amount(v) + ", day not known"
		}
	}
	if c.ProofOwed {
		text += ", proof owed"
	}
	if c.Found != "" {
		text += ", found " + Met(c.Found)
	}
	return Because(text, c.Why)
}

func (d describer) judged(o *model.Outcome) string {
	care, seen := d.names.Procedure(o.Procedure), d.names.Symptom(o.Symptom)
	switch o.Is {
	case model.Cured:
		return care + " cured " + seen
	case model.NotCured:
		return care + " did not cure " + seen
	}
	return "asked whether " + care + " cured " + seen + ": not known"
}

// printJob says a print and what it uses.
func printJob(j *model.PrintJob) string {
	var uses []string
	for _, meter := range model.TypedMeters {
		if n := j.Need[meter]; n > 0 {
			uses = append(uses, meter.Amount(n))
		}
	}
	if len(uses) == 0 {
		return j.File
	}
	return j.File + ", " + strings.Join(uses, ", ")
}

func stocked(s *model.StockMove, currency string) string {
	text := "drawer: " + s.Part
	switch {
	case s.Counted != nil:
		text += " counted, " + model.Number(*s.Counted)
	case s.Change > 0:
		text += " +" + model.Number(s.Change)
	case s.Change < 0:
		text += " " + model.Number(s.Change)
	}
	if s.Minimum != nil {
		text += ", minimum " + model.Number(*s.Minimum)
	}
	if s.Price != nil {
		text += ", price " + model.Money(s.Price, currency)
	}
	if s.Lead != nil {
		text += ", lead time " + model.Counted(*s.Lead, "day")
	}
	return text
}

func (d describer) walked(w *model.Walked) string {
	text := strings.ReplaceAll(string(w.What), "-", " ")
	if w.Step != "" {
		text = strings.ReplaceAll(w.Step, "-", " ") + " " + text
	}
	if w.ID != "" {
		text = d.names.Procedure(w.ID) + ": " + text
	}
	if w.Variable != "" {
		text += " " + string(w.Variable)
	}
	if w.Item != "" {
		text += " " + w.Item
	}
	switch {
	case w.Answer != "":
		text += " " + w.Answer
	case w.Number != nil:
		text += " " + strings.TrimSpace(model.Number(*w.Number)+" "+w.Unit)
	}
	return Because(strings.TrimSpace(text)+workedOut(w.From), w.Why)
}
