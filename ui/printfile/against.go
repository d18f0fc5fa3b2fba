package printfile

import (
	"strings"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/ui/book"
	"bench/oilcan/ui/theme"
)

// Against is what speaks against a print before any gauge does.
type Against struct {
	Text  string
	State model.GaugeWord // whose colour it has
}

// Bars says what speaks against printing on a machine: how it is tagged and, where nobody will be
// there, what was found of the smoke alarm and the extinguisher.
func Bars(m *model.Machine, unattended bool, now time.Time) []Against {
	var out []Against
	for _, f := range m.Findings {
		if unattended && f.NoAlarm() {
			out = append(out, Against{"Not unattended: " + theme.Safe(f.Text), model.WordPast})
		}
	}
	switch t := m.Tag; {
	case t != nil && (t.Kind == model.TagStopped || t.Kind == model.TagOutOfUse):
		out = append(out, Against{sentence(book.TagText(t)), model.WordPast})
	case t != nil:
		out = append(out, Against{sentence(book.TagText(t)), model.WordDue})
	case m.OutOfUse:
		out = append(out, Against{"Out of use since " + model.Day(m.Since, now), model.WordPast})
	}
	return out
}

// sentence begins a text as a sentence does.
func sentence(text string) string { return strings.ToUpper(text[:1]) + text[1:] }
