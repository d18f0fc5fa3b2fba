package plan

import (
	"fmt"
	"slices"
	"strings"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
	"bench/oilcan/ui/screen"
	"bench/oilcan/ui/session"
	"bench/oilcan/ui/theme"
)

// View draws the list above and the order below.
func (v *page) View() string {
	if v.m() == nil {
		return ""
	}
	if v.leftOpen() {
		return strings.Join(v.openLines(), "\n")
	}
	if v.ask != nil {
		return v.askView()
	}
	lines := v.listLines()
	lines = append(lines, "")
	if v.finding {
		return strings.Join(append(lines, v.findLine()), "\n")
	}
	for _, l := range []*screen.Line{&v.paper, &v.time} {
		if l.Open {
			return strings.Join(append(lines, v.typed(l)...), "\n")
		}
	}
	return strings.Join(append(lines, strings.Split(v.fold.View(v.Env.Theme, v.W), "\n")...), "\n")
}

// typed is what is asked and what is typed behind it, or below it where there is no room.
func (v *page) typed(l *screen.Line) []string {
	bold := v.Env.Theme.Text.Strong
	if room := v.W - theme.Width(l.Ask) - len(" :  "); room >= longTime {
		return []string{" " + bold.Text(l.Ask+":") + " " + l.Text.Drawn(room)}
	}
	var out []string
	for _, line := range theme.Wrap(l.Ask+":", v.W-2) {
		out = append(out, " "+bold.Text(line))
	}
	return append(out, " "+l.Text.Drawn(v.W-2))
}

// longTime is as long as what is typed may be: 2026-11-28 23:00 to 2026-11-29 01:00.
const longTime = 36

// openLines say what an earlier session left open.
func (v *page) openLines() []string {
	t := v.Env.Theme
	out := []string{" " + t.Text.Strong.Text("Left open by an earlier session"), ""}
	for _, l := range theme.Wrap(theme.Safe(walk.LedgerLine(v.m().Ledger)), v.W-6) {
		out = append(out, "   "+t.State.Due.Text(t.Plain(l)))
	}
	text := "A session that closes it comes first: the state is asked, what is out is counted and put back, and only then is there power or new care."
	out = append(out, "")
	for _, l := range theme.Wrap(text, min(screen.TextWidth, v.W-6)) {
		out = append(out, "   "+l)
	}
	return out
}

// leftOut tells a row that was chosen and does not fit the minutes there are.
func (v *page) leftOut(r row) bool {
	return r.in && v.chosen.Plan != nil && v.minutes > 0 &&
		!slices.Contains(v.chosen.IDs, r.id)
}

// listRoom is how many rows of the list are in view.
func (v *page) listRoom() int { return max(3, min(len(v.rows), v.H/3)) }

func (v *page) listLines() []string {
	t := v.Env.Theme
	room := v.listRoom()
	v.top = min(v.At, max(0, min(v.top, len(v.rows)-room)))
	if v.At >= v.top+room {
		v.top = v.At - room + 1
	}
	var out []string
	whole := "" // what is said of the row the cursor is on, where that is cut
	for i := v.top; i < min(len(v.rows), v.top+room); i++ {
		r := v.rows[i]
		mark, box, word, used := " ", "[ ]", "", ""
		outside := v.leftOut(r)
		switch {
		case outside:
			box = "[-]"
		case r.in:
			box = "[x]"
		}
		name := theme.Safe(r.title)
		if i == v.At {
			mark = ">"
			name = t.Text.Accent.Text(name)
		}
		if r.gauge != nil {
			word, used = t.Word(r.gauge.Word), t.Plain(r.gauge.UsedText())
			if why := r.gauge.Why.String(); why != "" && !r.gauge.AtMost {
				used = t.Plain(theme.Safe(why))
			}
			switch lasts := r.gauge.LastingText(); {
			case r.gauge.Estimated:
				used = t.Plain("by estimate, " + r.gauge.UsedText())
			case lasts != "" && r.gauge.Used < r.gauge.Low:
				used = t.Plain(lasts)
			}
			if outside {
				used = "not in " + model.Figure(v.minutes) + " min"
			}
		}
		nameWidth := max(16, min(44, v.W-36))
		line := fmt.Sprintf(" %s %s %s %s %s", mark, box, t.Pad(t.Trunc(name, nameWidth), nameWidth),
			t.Pad(word, 8), used)
		if theme.Width(line) > v.W-1 {
			if i == v.At {
				whole = used
			}
			line = strings.NewReplacer("% past its band by the next", "% by next",
				"past its band by the next", "past by next").Replace(line)
		}
		out = append(out, screen.Fit(t, line, v.W))
	}
	if len(v.rows) > room {
		whole = strings.TrimRight(fmt.Sprintf("%d of %d   %s", v.At+1, len(v.rows), whole), " ")
	}
	if len(v.rows) > room || whole != "" {
		out = append(out, t.Text.Dim.Text(screen.Fit(t, "       "+whole, v.W)))
	}
	return out
}

func (v *page) refill() {
	if v.Data == nil || v.m() == nil {
		return
	}
	room := v.H - v.listRoom() - 2
	v.fold.Fill(v.orderLines(), max(3, room))
}

// what says of what kind the session is, "" where it is one like any other.
func (v *page) what() string {
	n := session.UntilKnown(v.Data.Gauges[v.machine])
	switch stopped := session.StoppedText(v.m()); {
	case stopped != "":
		return stopped
	case v.asIs && v.minutes == 0 && n > 0:
		return session.KnowText(n)
	}
	return ""
}

// orderLines are the order, what to lay out, what is missing, and how sure the order is.
func (v *page) orderLines() []string {
	t := v.Env.Theme
	if v.trouble != "" {
		var out []string
		for _, l := range theme.Wrap(theme.Safe(v.trouble), v.W-2) {
			out = append(out, " "+l)
		}
		return out
	}
	if !v.planned {
		return []string{" planning"}
	}
	var out []string
	for _, text := range []string{v.what(), v.chosen.FollowsText()} {
		if text == "" {
			continue
		}
		for _, l := range theme.Wrap(theme.Safe(text), v.W-2) {
			out = append(out, " "+t.Text.Dim.Text(t.Plain(l)))
		}
		out = append(out, "")
	}
	if text := session.LeaveText(v.chosen.Plan.Leave); text != "" {
		for _, l := range theme.Wrap(text, v.W-2) {
			out = append(out, " "+l)
		}
		out = append(out, "")
	}
	for _, l := range session.PlanPage(v.desk.Lib, v.chosen.Plan, v.Data.Bench.Drawer, v.W-2) {
		out = append(out, " "+t.Plain(l))
	}
	return out
}
