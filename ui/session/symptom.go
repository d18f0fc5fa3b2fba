package session

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/model/life"
	"bench/oilcan/model/symptom"
	"bench/oilcan/procedures"
	"bench/oilcan/ui/action"
	"bench/oilcan/ui/theme"
)

// Rank gives what to say of symptoms on a machine of a bench; m may be nil.
func (d Desk) Rank(b *model.Bench, m *model.Machine, heard []symptom.Heard,
	now time.Time) symptom.Result {
	c := symptom.Case{Table: procedures.Symptoms(), Heard: heard, Machine: m, Procs: d.Lib.All(),
		Now: now}
	if b != nil {
		c.Counts = symptom.Counts(b)
	}
	if m != nil {
		c.Gauges = life.Gauges(m.KeptByAll(), c.Procs, now)
		c.Session = d.toCome(m)
	}
	return symptom.Rank(c)
}

// toCome gives the procedures that the machine's begun session has still to come, the one under way
// among them. A session that cannot be read has none: the ranking holds without it.
func (d Desk) toCome(m *model.Machine) []string {
	if m.Session == "" || d.Store == nil {
		return nil
	}
	s, err := d.Open(m.Session)
	if err != nil || s.W.Cur >= len(s.W.Blocks) {
		return nil
	}
	var out []string
	for _, b := range s.W.Blocks[s.W.Cur:] {
		if b.Kind == model.BlockCare {
			out = append(out, b.ID)
		}
	}
	return out
}

// OutcomeQuestion asks whether a session's care cured what it was begun for.
func OutcomeQuestion(c model.Complained, names action.Names) string {
	care, seen := names.Procedure(c.Procedure), make([]string, len(c.Symptoms))
	for i, id := range c.Symptoms {
		seen[i] = strconv.Quote(names.Symptom(id))
	}
	if c.Start != "" && c.Start != c.Procedure {
		return fmt.Sprintf("Is it cured, after %q or its look: %s?", care,
			strings.Join(seen, " and "))
	}
	return fmt.Sprintf("Did %q cure it: %s?", care, strings.Join(seen, " and "))
}

// Percent is a share of the likelihood in whole percent; what is above nothing is at least 1.
func Percent(share float64) int { return max(1, int(share*100+0.5)) }

// Reasons is why a line stands where it does, as one text.
func Reasons(l symptom.Line) string { return strings.Join(l.Reasons, "; ") }

// DryFilament is the procedure the table of materials belongs to.
const DryFilament = "dry-filament"

// materialFormat sets the columns of a material's first line: 76 cells.
const materialFormat = "%-33s %7s %6s %9s %9s %7s"

// MaterialLines is the table of polymers as plain text: drying, the shares of an hour that count as
// abrasive and styrenic, the humidity a roll may wait at, how much it drinks; then heat, air and
// cautions. No line is wider than width; below 76 cells the figures stand in a text.
func MaterialLines(list []model.Material, width int) []string {
	if width < materialWidth {
		return materialText(list, width)
	}
	out := []string{fmt.Sprintf(materialFormat, "material", "dry °C", "hours", "abrasive",
		"styrenic", "% RH")}
	for _, m := range list {
		if m.Banned {
			out = append(out, m.Name+": banned")
		} else {
			out = append(out, fmt.Sprintf(materialFormat, m.Name, span(m.Dry), span(m.Hours),
				share(m.Abrasive), share(m.Styrenic), model.Number(m.Humidity)))
		}
		for _, l := range theme.Wrap(MaterialNote(m), width-4) {
			out = append(out, "    "+l)
		}
	}
	return out
}

// materialWidth is how wide a line of materialFormat is.
const materialWidth = 76

func materialText(list []model.Material, width int) []string {
	var out []string
	for _, m := range list {
		name, text := m.Name, ""
		if m.Banned {
			name += ": banned"
		} else {
			text = fmt.Sprintf(
				"dry %s °C, %s h; wears %s abrasive, %s styrenic; waits at %s %% RH; ",
				span(m.Dry), span(m.Hours), share(m.Abrasive), share(m.Styrenic), model.Number(
					m.Humidity))
		}
		out = append(out, theme.Wrap(name, width)...)
		for _, l := range theme.Wrap(text+MaterialNote(m), width-2) {
			out = append(out, "  "+l)
		}
	}
	return out
}

// MaterialNote is what the figures of a material do not say, in one text.
func MaterialNote(m model.Material) string {
	var parts []string
	if !m.Nozzle.Zero() {
		parts = append(parts, "nozzle "+span(m.Nozzle)+" °C, bed "+span(m.Bed)+" °C")
	}
	if m.Chamber != "" {
		parts = append(parts, m.Chamber)
	}
	parts = append(parts, "fume: "+m.Fume)
	if m.Need != "" {
		parts = append(parts, "moisture need "+m.Need)
	}
	text := strings.Join(parts, "; ")
	if m.Note != "" {
		text += ". " + m.Note
	}
	return text + " (" + m.Basis + ")"
}

// MaterialHead says what the table's figures are of.
const MaterialHead = "Bands of a spool dryer, hours for 1 kg that was open for weeks. The lowest limit of polymer, spool and dryer wins; an unknown roll or spool: 45 °C at most."

func span(r model.Range) string {
	if r.Low == r.High || r.Low == 0 {
		return model.Number(r.High)
	}
	return model.Number(r.Low) + "–" + model.Number(r.High)
}

func share(v float64) string {
	if v == 0 {
		return "–"
	}
	return model.Number(v)
}
