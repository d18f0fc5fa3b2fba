package book

import (
	"strings"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/ui/action"
	"bench/oilcan/ui/theme"
)

// mostAhead is how many entries ahead of the clock are told each by itself.
const mostAhead = 3

// Ahead asks about what is dated ahead of the clock, a sentence for each action, with the days in
// the zone of now; none where nothing is.
func Ahead(b *model.Bench, names action.Names, now time.Time) []string {
	var out []string
	told := map[string]bool{}
	more := 0
	for _, l := range Lines(b.Ahead, names, now) {
		e := l.Entry
		if told[e.Action] {
			continue
		}
		told[e.Action] = true
		if len(out) == mostAhead {
			more++
			continue
		}
		text := l.Text
		if m := b.Machines[e.Machine]; m != nil {
			text = theme.Safe(m.Name) + ": " + text
		}
		out = append(out, text+" is dated "+model.Day(e.At, now)+
			", ahead of the clock, and renews nothing until then: if the clock was wrong, oilcan strike "+
			strings.ToLower(e.ID[max(0, len(e.ID)-6):])+" --why \"wrong clock\", and log it again")
	}
	if more > 0 {
		out = append(out, model.Counted(more, "action")+
			" more ahead of the clock: oilcan book shows them last")
	}
	return out
}
