package symptom

import (
	"fmt"
	"slices"
	"strings"

	"bench/oilcan/model"
	"bench/oilcan/model/symptom"
	"bench/oilcan/procedures"
	"bench/oilcan/ui/screen"
	"bench/oilcan/ui/session"
	"bench/oilcan/ui/theme"
)

// View draws the stage.
func (v *page) View() string {
	if v.m() == nil {
		return screen.Gone
	}
	var out []string
	switch v.stage {
	case judging:
		out = v.judgeLines()
	case choosing:
		out = v.chooseLines()
	case asking:
		out = v.askLines()
	case stopped:
		out = v.stopPart()
	case harmless:
		out = append(v.headLines(), v.para(v.r.Normal.Normal, "   ")...)
	default:
		out = v.rankedLines()
	}
	t := v.Env.Theme
	for i := range out {
		out[i] = screen.Fit(t, out[i], v.W)
	}
	return strings.Join(screen.Clip(out, v.H), "\n")
}

// para wraps a text for reading.
func (v *page) para(text, indent string) []string {
	t := v.Env.Theme
	var out []string
	for _, l := range theme.Wrap(t.Plain(theme.Safe(text)), min(96, v.W-len(indent)-2)) {
		out = append(out, indent+l)
	}
	return out
}

func (v *page) judgeLines() []string {
	t := v.Env.Theme
	out := []string{""}
	for _, l := range v.para(session.OutcomeQuestion(v.pending, v.Env.Names()), "   ") {
		out = append(out, t.Text.Accent.Text(l))
	}
	out = append(out, "")
	out = append(out, v.para("The session of "+model.Day(v.pending.At, v.Now)+
		". What you say moves the weights of this bench; the book keeps it.", "   ")...)
	return append(out, "", "   y   cured", "   n   not cured", "   u   not known",
		"   enter  ask me later")
}

// choices are the symptoms to choose from: those of fire and shock first, where nobody has to look
// for them. What was heard already is not among them, nor what the machine cannot show.
func (v *page) choices() []*symptom.Symptom {
	t := procedures.Symptoms()
	var out []*symptom.Symptom
	for i := range t.Symptoms {
		s := &t.Symptoms[i]
		if s.On(v.m()) && !slices.ContainsFunc(v.heard, func(h symptom.Heard) bool {
			return h.Symptom == s
		}) {
			out = append(out, s)
		}
	}
	return stopsFirst(out)
}

// stopsFirst puts fire and shock before the others, which keep their order.
func stopsFirst(list []*symptom.Symptom) []*symptom.Symptom {
	slices.SortStableFunc(list, func(a, b *symptom.Symptom) int {
		switch {
		case a.Stop == b.Stop:
			return 0
		case a.Stop:
			return -1
		}
		return 1
	})
	return list
}

// chooseLines list the symptoms, and how the one under the cursor is known.
func (v *page) chooseLines() []string {
	t := v.Env.Theme
	list := v.shown()
	foot := []string{}
	if v.finding {
		find := " " + t.Text.Strong.Text("find:") + " " + v.find.DrawnAmong(t, v.W-7, v.titles())
		if v.find.Text != "" && len(v.meant()) == 0 {
			find += t.Text.Dim.Text("   no symptom by these words")
		}
		foot = append(foot, "", find)
	} else if v.At < len(list) {
		foot = append(foot, "")
		foot = append(foot, screen.Clip(v.para(list[v.At].Seen, "   "), 2)...)
	}
	room := max(1, v.H-len(foot))
	if len(list) > room {
		room = max(1, room-1)
	}
	v.top = window(v.At, v.top, room, len(list))
	var out []string
	for i := v.top; i < min(len(list), v.top+room); i++ {
		s := list[i]
		mark, title, note := "   ", t.Plain(s.Title), ""
		if s.Stop {
			note = t.State.Past.Text("stop")
		}
		if i == v.At {
			mark, title = " > ", t.Text.Accent.Text(title)
		}
		if v.W < 64 {
			out = append(out, mark+title+"  "+note)
			continue
		}
		out = append(out, mark+t.Pad(title, 46)+t.Pad(s.ID, 26)+" "+note)
	}
	if len(list) > room {
		out = append(out, t.Text.Dim.Text(fmt.Sprintf("   %d of %d", v.At+1, len(list))))
	}
	return append(out, foot...)
}

// window keeps the cursor in view of room lines of n.
func window(at, top, room, n int) int {
	top = min(at, max(0, min(top, n-room)))
	if at >= top+room {
		top = at - room + 1
	}
	return top
}

func (v *page) headLines() []string {
	t := v.Env.Theme
	var out []string
	for _, h := range v.heard {
		line := " " + t.Text.Strong.Text(t.Plain(h.Symptom.Title))
		if h.Answer != "" {
			line += ": " + t.Plain(h.Answer)
		}
		out = append(out, line)
	}
	return append(out, "")
}

func (v *page) askLines() []string {
	t := v.Env.Theme
	s := v.asked()
	out := []string{" " + t.Text.Strong.Text(t.Plain(s.Title))}
	out = append(out, v.para(s.Seen, "   ")...)
	out = append(out, "")
	for _, l := range v.para(s.Ask, "   ") {
		out = append(out, t.Text.Accent.Text(l))
	}
	out = append(out, "")
	words := []string{}
	for _, a := range s.AnswersOn(v.m()) {
		words = append(words, a.Is)
	}
	for i, w := range append(words, "don't know") {
		mark, w := "   ", fmt.Sprintf("%d  %s", i+1, t.Plain(w))
		if i == v.At {
			mark, w = " > ", t.Text.Accent.Text(w)
		}
		out = append(out, "  "+mark+w)
	}
	if len(out) > v.H { // a low screen keeps question and answers
		out = out[len(out)-v.H:]
	}
	return out
}

// stopPart is what a low screen has room for of the page, and that there is more of it.
func (v *page) stopPart() []string {
	out := v.stopLines()
	if len(out) <= v.H {
		v.top = 0
		return out
	}
	room := max(1, v.H-1)
	v.top = max(0, min(v.top, len(out)-room))
	more := "   more: down"
	if v.top+room >= len(out) {
		more = "   above: up"
	}
	return append(slices.Clone(out[v.top:v.top+room]), v.Env.Theme.State.Due.Text(more))
}

// stopLines are the page of fire and shock: what to do now, and the tag.
func (v *page) stopLines() []string {
	t := v.Env.Theme
	out := []string{"   " + t.State.Past.Text("STOP") + "   " +
		t.Text.Strong.Text(t.Plain(v.r.Stop.Title)), ""}
	steps := 0
	var page [][]string
	for _, l := range v.r.Stop.Page {
		page = append(page, theme.Wrap(t.Plain(l), min(screen.TextWidth, v.W-8)))
		steps += len(page[len(page)-1])
	}
	roomy := v.H >= steps+len(page)+5 // with a blank line behind each step, and the tag in view
	for i, step := range page {
		mark := fmt.Sprintf("   %d  ", i+1)
		for _, part := range step {
			out = append(out, mark+part)
			mark = "      "
		}
		if roomy {
			out = append(out, "")
		}
	}
	if !roomy {
		out = append(out, "")
	}
	name := theme.Safe(v.m().Name)
	if v.tagged() {
		return append(out, v.para(name+
			" carries the tag \"stopped\": its power is locked until who put it right closes the finding by name.", "   ")...)
	}
	return append(out, v.para("y sets the tag \"stopped\" on "+name+
		": its power is locked until the finding is closed by name.", "   ")...)
}

// rankedLines are what follows from the answers, what no care cures, and the care, scrolled so that
// the one under the cursor is in view.
func (v *page) rankedLines() []string {
	if !v.ready {
		return append(v.headLines(), " weighing")
	}
	t := v.Env.Theme
	out := v.headLines()
	for _, l := range v.r.Says {
		for _, line := range v.para(l, " ") {
			out = append(out, t.State.Due.Text(line))
		}
		out = append(out, "")
	}
	out = append(out, " "+t.Text.Strong.Text("causes maintenance won't fix")+
		t.Text.Dim.Text(fmt.Sprintf("   %d %%", session.Percent(v.r.Outside))))
	for _, l := range v.r.NotCare {
		out = append(out, v.para(l, "   ")...)
	}
	out = append(out, "")
	if len(v.r.Lines) == 0 {
		return append(out,
			v.para("No care in the library fits what this machine has: e on its page says more of it.", "   ")...)
	}
	out = append(out, " "+t.Text.Strong.Text("care, the likeliest first"))
	from, to := 0, 0
	for i, l := range v.r.Lines {
		if i == v.At {
			from = len(out)
		}
		out = append(out, v.careLines(i, l)...)
		if i == v.At {
			to = len(out)
		}
	}
	if v.At == 0 && to <= v.H { // from the first one on, what no care cures is in view
		from = 0
	}
	v.top = max(0, min(v.top, len(out)-v.H))
	v.top = max(min(v.top, from), to-v.H)
	return out[max(0, v.top):]
}

// careLines are one care: how likely, what, how long, and why it stands there.
func (v *page) careLines(i int, l symptom.Line) []string {
	t := v.Env.Theme
	mark, title := "   ", t.Plain(theme.Safe(l.Title))
	share := fmt.Sprintf("%3d %%", session.Percent(l.Share))
	if l.First {
		share = "first"
	}
	minutes := model.Minutes(l.HandsOn) + " min"
	if l.Start == "" {
		minutes += " by hand"
	}
	if v.W >= 64 {
		share = t.Bar(8, l.Share) + " " + share
	}
	room := v.W - 3 - theme.Width(share) - 2 - theme.Width(minutes) - 3
	short := t.Trunc(title, max(8, min(room, 60)))
	cut := l.Start == "" && theme.Width(short) < theme.Width(title)
	if cut { // what is done by hand is told here and nowhere else
		short = "by hand"
		minutes = model.Minutes(l.HandsOn) + " min"
	}
	if i == v.At {
		mark, short = " > ", t.Text.Accent.Text(short)
	}
	out := []string{mark + share + "  " + short + "  " + t.Text.Dim.Text(minutes)}
	if cut {
		out = append(out, v.para(l.Title, "      ")...)
	}
	return append(out, v.para(session.Reasons(l), "      ")...)
}
