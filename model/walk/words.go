package walk

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"time"

	"bench/oilcan/model"
)

// StateLine is what is believed of the machine now, with the reading of heat and since when.
func StateLine(w *Walk) string {
	fs := w.Features()
	var parts []string
	for _, v := range model.Variables {
		if !v.Exists(fs) {
			continue
		}
		val := w.Believed[v]
		if v.Latched() {
			if val != "" && val != model.Values[v][0] {
				parts = append(parts, string(v)+" "+val)
			}
			continue
		}
		if val == "" {
			val = "?"
		}
		if seen := w.Seen[v]; v == model.Heat && seen.Note != "" && !seen.At.IsZero() {
			val = seen.Note + " at " + seen.At.Format("15:04")
		}
		parts = append(parts, string(v)+" "+val)
	}
	return strings.Join(parts, " · ")
}

// StateMatters tells whether anything of the machine's state is known, asked or out: a look that
// needs none of it is spared the line.
func (w *Walk) StateMatters() bool {
	if w.telling {
		return false // it is asked when all is told
	}
	if len(w.toAsk) > 0 || !w.Ledger().Empty() {
		return true
	}
	for v, val := range w.Believed {
		if val != "" && (!v.Latched() || val != model.Values[v][0]) {
			return true
		}
	}
	return false
}

// LedgerLine is what is out of the machine, in it, or loose; "" where nothing is.
func LedgerLine(l model.Ledger) string { return ledgerLine(l, nil) }

// LedgerShown is the line as it stands beside the current gate: where that counts what comes back,
// it does not tell the number.
func (bk *book) LedgerShown(s *model.Step) string {
	blind := map[string]bool{}
	if s != nil && closing(s) {
		for _, items := range []map[string]model.Amount{s.Back, s.Taken} {
			for item := range items {
				blind[item] = true
			}
		}
		if s.Equal != nil {
			blind[s.Equal.Ledger] = true
		}
	}
	return ledgerLine(bk.Ledger(), blind)
}

func ledgerLine(l model.Ledger, blind map[string]bool) string {
	var parts []string
	if len(l.Out) > 0 {
		parts = append(parts, "out of the machine: "+counts(l.Out, blind))
	}
	if len(l.Inside) > 0 {
		parts = append(parts, "inside: "+counts(l.Inside, blind))
	}
	for _, k := range slices.Sorted(maps.Keys(l.Flags)) {
		if k != lostPiece {
			parts = append(parts, l.FlagText(k))
		}
	}
	for _, p := range l.LostPieces() {
		if strings.HasPrefix(p, model.LeftOver) {
			parts = append(parts, p)
			continue
		}
		parts = append(parts, "missing: "+model.LostName(p))
	}
	return strings.Join(parts, " · ")
}

// counts names what is out or in, with its number where that is more than one; what is counted
// blind has none.
func counts(m map[string]int, blind map[string]bool) string {
	var parts []string
	for _, k := range slices.Sorted(maps.Keys(m)) {
		switch {
		case blind[k]:
			parts = append(parts, k)
		case m[k] == 1:
			parts = append(parts, singular(k))
		default:
			parts = append(parts, fmt.Sprintf("%d %s", m[k], k))
		}
	}
	return strings.Join(parts, ", ")
}

// singular is one of what a ledger name counts: names are plurals where they can be more.
func singular(name string) string {
	if strings.HasSuffix(name, "ss") {
		return name
	}
	return strings.TrimSuffix(name, "s")
}

// Tightness is how tight a fastener goes: the ceiling where there is one, else the rule, and why;
// "" where the step only undoes it.
func Tightness(f model.Fastener) string {
	t := f.Ceiling()
	if t.Ceiling > 0 {
		return fmt.Sprintf("%s; never over %.2f N·m (%s)", t.Rule, t.Ceiling, t.Source)
	}
	if t.Rule == "" {
		return ""
	}
	return t.Rule + ": " + t.Why
}

// Wants says what the current gate passes on, where it is a number: "0 to 45 °C", "must be 4". It
// is "" where something else is asked first.
func Wants(w *Walk, c Context) string {
	s := w.Asked(c)
	if s == nil || w.Prompt(c.Now).Kind != AskStep {
		return ""
	}
	switch s.Gate {
	case model.Measure:
		if s.Meter != "" {
			return lastRead(c, s.Meter)
		}
		if lo, hi := w.bounds(c, s); lo != nil || hi != nil {
			return rangeWords(lo, hi, s.Unit)
		}
		return "recorded"
	case model.Count:
		if s.Meter != "" {
			return lastRead(c, s.Meter)
		}
		if w.uncompared(s) {
			return "nothing to compare with"
		}
		if closing(s) {
			return "counted anew"
		}
		if n, has := w.wanted(s); has && !hides(s) {
			return fmt.Sprintf("must be %d", n)
		}
		if s.Min != nil && *s.Min > 0 || s.Max != nil {
			return countRange(s)
		}
		return "a count"
	case model.State:
		if w.WantsTag(s) {
			return "the id on the tag"
		}
	}
	return ""
}

// Blank is what enter alone says where a text is asked: nothing, where the file takes "-" for it,
// and the name of who works where the session is signed; "" where something has to be typed.
func (w *Walk) Blank(c Context) string {
	s := w.Step()
	switch {
	case s == nil || s.Gate != model.Note || w.Prompt(c.Now).Kind != AskStep:
		return ""
	case w.Block().ID == model.CloseOut && s.Name == signature:
		return c.By
	case mayBeBlank(s):
		return "-"
	}
	return ""
}

// mayBeBlank tells whether nothing is an answer to a note.
func mayBeBlank(s *model.Step) bool { return strings.HasSuffix(s.Ask, ", or -") }

// lastRead tells what a meter showed last.
func lastRead(c Context, m model.Meter) string {
	if c.Machine == nil || c.Machine.Readings[m] == nil {
		return "first reading"
	}
	last := c.Machine.Readings[m].Last
	return fmt.Sprintf("last %s, %s", model.Number(last.Value), model.Day(last.At, c.Now))
}

// Left is the hands and waiting still ahead, practised, in minutes; what is begun counts by the
// steps it still has.
func (at *progress) Left() float64 {
	left := 0.0
	for i := at.Cur; i < len(at.Blocks); i++ {
		b := at.Blocks[i]
		all := b.Proc.HandsOn + b.Proc.Waiting
		if i == at.Cur {
			if n, of := at.StepOf(); of > 0 {
				all *= float64(of-n+1) / float64(of)
			}
		} else if done, of := at.doneAhead(i); of > 0 {
			all *= float64(of-done) / float64(of)
		}
		left += all
	}
	return left
}

// doneAhead gives how many of the steps of a block ahead were done while a wait ran: its minutes
// are not waited for twice.
func (at *progress) doneAhead(i int) (done, of int) {
	b := at.ahead(i)
	for _, s := range b.Proc.Steps {
		if !at.applies(b, s.Only) {
			continue
		}
		of++
		if at.passed[stepKey(b.key, s.Name)] {
			done++
		}
	}
	return done, of
}

// Summary is one session on a page.
type Summary struct {
	Title    string
	Closed   time.Time
	State    string
	Hands    float64 // minutes
	Waited   float64 // minutes
	Done     []string
	Swapped  []string
	Left     []string // skipped, parked, left out, with why
	Readings []Reading
	Counted  string
	Findings []string
	Next     []string // when what was done is due again; the caller fills it in
	IDs      []string // what was done
}

// Summarise tells what a session came to.
func Summarise(w *Walk) Summary {
	s := Summary{Title: w.Title, Closed: w.LastAt, State: w.State()}
	s.Hands, s.Waited = w.Minutes()
	if w.End != nil {
		s.State = w.End.State
	}
	for _, b := range w.Blocks {
		if b.Kind != model.BlockCare || b.Proc.Kind == model.Bookend {
			continue
		}
		s.block(w, b)
	}
	for _, e := range w.entries {
		s.entry(e)
	}
	s.Counted = "everything back, nothing inside"
	if l := w.Ledger(); !l.Empty() {
		s.Counted = LedgerLine(l)
	}
	return s
}

func (s *Summary) block(w *Walk, b *Block) {
	switch b.Status {
	case Done:
		s.Done = append(s.Done, b.Proc.Title)
		s.IDs = append(s.IDs, b.ID)
	case Ahead, Omitted, Parked, Part:
		why := b.Why
		for k, r := range w.skips {
			if why == "" && strings.HasPrefix(k, b.key+"/") {
				why = "skipped \"" + rowName(b, strings.TrimPrefix(k, b.key+"/")) + "\": " + r
			}
		}
		s.Left = append(s.Left, strings.TrimSuffix(b.Proc.Title+": "+string(b.Status)+", "+why,
			", "))
	}
}

// rowName calls a step of a block by the text of its row; one without a row by its name.
func rowName(b *Block, step string) string {
	if i := stepIndex(b, step); i >= 0 && b.Proc.Steps[i].Line != "" {
		return b.Proc.Steps[i].Line
	}
	return step
}

func (s *Summary) entry(e *model.Entry) {
	switch {
	case e.Swap != nil:
		s.Swapped = append(s.Swapped, e.Swap.Part+" ("+string(e.Swap.End)+")")
	case e.Value != nil && !coldProof(e.Value):
		s.reading(e.Value.Name, model.Figure(e.Value.Value)+" "+e.Value.Unit)
	case e.Reading != nil:
		s.reading(string(e.Reading.Meter), model.Number(e.Reading.Value))
	case e.Finding != nil:
		f := e.Finding.Text
		if !e.Finding.Again.IsZero() {
			f += " (" + e.Finding.DayWord() + " " + model.Day(e.Finding.Again, e.At) + ")"
		}
		if !slices.Contains(s.Findings, f) { // two rows may find the same
			s.Findings = append(s.Findings, f)
		}
	}
}

// coldProof tells a reading that only proved a part cold: it says nothing afterwards.
func coldProof(v *model.Measured) bool {
	return v.Unit == "°C" && v.Low != nil && *v.Low == 0 && v.High != nil && *v.High == coldUpTo
}

// reading keeps the last value read under a name.
func (s *Summary) reading(name, value string) {
	for i, r := range s.Readings {
		if r.Name == name {
			s.Readings[i].Value = value
			return
		}
	}
	s.Readings = append(s.Readings, Reading{Name: name, Value: value})
}

// Reading is one value read in a session; Before is the one before it, "" where there was none.
type Reading struct{ Name, Value, Before string }

func (r Reading) String() string {
	text := r.Name + " " + r.Value
	if r.Before != "" {
		text += " (before " + r.Before + ")"
	}
	return text
}

// WithBefore fills in what was read the time before, from the machine as it is after the session.
func (s Summary) WithBefore(m *model.Machine) Summary {
	for i, r := range s.Readings {
		if vs := m.Values[r.Name]; len(vs) > 1 {
			s.Readings[i].Before = model.Figure(vs[len(vs)-2].Value)
		}
	}
	return s
}

// Lines writes the summary as plain lines.
func (s Summary) Lines(machine string) []string {
	out := []string{"", fmt.Sprintf("%s: %s closed %s, %s · hands %.0f min, waited %.0f min",
		machine, s.Title,
		s.Closed.Format("2006-01-02 15:04"), s.State, s.Hands, s.Waited)}
	add := func(head string, items []string) {
		for i, it := range items {
			h := ""
			if i == 0 {
				h = head
			}
			out = append(out, fmt.Sprintf("  %-9s %s", h, it))
		}
	}
	add("done", s.Done)
	add("swapped", s.Swapped)
	add("left", s.Left)
	var read []string
	for _, r := range s.Readings {
		read = append(read, r.String())
	}
	add("readings", read)
	add("counted", []string{s.Counted})
	add("findings", s.Findings)
	add("next", s.Next)
	return out
}
