package machine

import (
	"strings"

	"bench/oilcan/model"
	"bench/oilcan/model/measure"
	"bench/oilcan/ui/screen"
	"bench/oilcan/ui/theme"
)

// runs are the quantities that were read twice or more, by name.
type runs map[string]measure.Run

func runsOf(entries []model.Entry) runs {
	out := runs{}
	for _, run := range measure.Runs(entries) {
		if len(run.Points) < 2 {
			continue // nothing to draw
		}
		out[run.Quantity] = run
	}
	return out
}

// courseShown is how many of the last readings are drawn.
const courseShown = 16

// valueLines are the last values measured. What was read twice or more is drawn, and from eight
// readings on held against what this machine does.
func (s *machine) valueLines(m *model.Machine) []string {
	var out []string
	word := "measured"
	for _, name := range screen.Sorted(m.Values) {
		vs := m.Values[name]
		if len(vs) == 0 {
			continue
		}
		last := vs[len(vs)-1]
		text := theme.Safe(strings.ReplaceAll(name, "-", " ")) + " "
		run, drawn := s.more.runs[name]
		if drawn {
			list := run.Values()
			text += s.Env.Theme.Course(list[max(0, len(list)-courseShown):]) + " "
		}
		text += strings.TrimSpace(model.Figure(last.Value)+" "+theme.Safe(last.Unit)) + ", " +
			s.day(last.At)
		limits, outside := "", false
		if drawn {
			limits, outside = run.Usual()
		}
		switch {
		case outside:
			text += "; " + measure.Outside + ", " + theme.Safe(limits)
		case limits != "":
			text += "; usual " + theme.Safe(limits)
		case len(vs) > 1:
			text += " (before: " + model.Figure(vs[len(vs)-2].Value) + ")"
		}
		for _, l := range s.labelled(word, text) {
			if outside {
				rest := strings.TrimLeft(l, " ")
				l = l[:len(l)-len(rest)] + s.Env.Theme.State.Due.Text(rest)
			}
			out = append(out, l)
		}
		word = ""
	}
	return out
}
