package walk

import (
	"fmt"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
	"bench/oilcan/ui/screen"
	"bench/oilcan/ui/session"
	"bench/oilcan/ui/theme"
)

// offers are what may be done while the wait runs that stands before the person, and the one that
// is answered next.
func (v *walkScreen) offers() (os []walk.Offer, at int) {
	if v.s == nil {
		return nil, -1
	}
	os = v.s.W.Meanwhile(v.s.Context(v.Now))
	return os, min(max(v.at, 0), len(os)-1)
}

// listed tells whether what is answered next goes by a list of things that stands with it.
func (v *walkScreen) listed() bool {
	switch p := v.prompt(); p.Kind {
	case walk.AskWait:
		os, at := v.offers()
		return at >= 0 && len(os[at].List) > 0
	case walk.AskStep:
		return len(v.s.W.ListOf(p.Block.ID, p.Step)) > 0
	}
	return false
}

// waitKeys are the keys of what may be done meanwhile: it is answered as the rows of a page are,
// one by one.
func (v *walkScreen) waitKeys() []screen.Key {
	os, at := v.offers()
	if at < 0 {
		return nil
	}
	o, seen := os[at], asWritten
	if o.Seen == "" {
		seen = "" // it says then what is missing
	}
	pass := screen.On("space", seen,
		"what is marked is done as it is written; it is not asked again later",
		v.says(session.Row(at+1, ""))).Afresh()
	if v.listed() && v.unread() {
		pass = v.readOnKey("space")
	}
	return []screen.Key{
		pass,
		v.digitsKey(o.Step, func(text string) tea.Cmd { return v.say(session.Row(at+1, text)) }),
		screen.On("up/down", "choose", "choose among what can be done meanwhile",
			func(p screen.Press) tea.Cmd {
				v.at, v.up = at, 0 // the first is marked before anything is chosen
				v.pick(p.Key(), len(os))
				return nil
			}, "up", "down").When(len(os) > 1),
	}
}

// bigRoom is how many lines the time left takes, large, and besides what stands above and below a
// wait.
const bigRoom = 6 + 4

// waitLines draw a wait that stands before the next step: the time left, large, and what can be
// done meanwhile.
func (v *walkScreen) waitLines(p walk.Prompt) []string {
	t := v.Env.Theme
	all := p.Wait.Until.Sub(p.Wait.Begun)
	if p.Step != nil && p.Step.Gate == model.Wait && p.Step.Seconds > 0 {
		all = time.Duration(p.Step.Seconds) * time.Second
	}
	out := v.overWait(p)
	out = append(out, v.wrapped(p.Step.Do, "   ", t.Text.Strong)...)
	out = append(out, "")
	share := 1 - float64(p.Left)/float64(max(all, time.Second))
	rest := []string{"   waiting  " + model.TimeLeft(p.Left) + " of " + model.TimeLeft(all) +
		" left", "   " + t.Bar(min(40, v.W-8), share)}
	rest = append(rest, v.wrapped(p.Wait.Why, "   ", theme.Paint{})...)
	rest = append(rest, v.offerLines()...)
	rest = append(rest, v.refusalLines(p)...)
	rest = append(rest, v.togetherLines(false)...)
	if len(out)+len(rest)+bigRoom <= v.H {
		for _, l := range t.Big(model.TimeLeft(p.Left)) {
			out = append(out, "   "+t.Text.Strong.Text(l))
		}
		out = append(out, "")
	}
	return append(out, rest...)
}

// overWait is what stands above a wait: the page whose last row it is, or its heading, with its
// cautions.
func (v *walkScreen) overWait(p walk.Prompt) []string {
	if pg := v.page(); pg != nil {
		return append(append(v.rowsOf(p, pg), v.divider()), v.cautionText(pg.Beside)...)
	}
	return append([]string{" " + v.Env.Theme.Text.Strong.Text(theme.Safe(p.Block.Proc.Heading())),
		""}, v.cautionLines()...)
}

// offerLines draw what can be done meanwhile, as rows; the one that is answered next has its
// cautions and answers.
func (v *walkScreen) offerLines() []string {
	os, at := v.offers()
	if len(os) == 0 {
		return nil
	}
	out := []string{"", " " + v.question("meanwhile")}
	for i, o := range os {
		r := walk.Row{Step: o.Step, Seen: o.Seen, Now: i == at, List: o.List}
		if i == at {
			out = append(out, v.cautionText(o.Cautions)...)
		}
		out = append(out, v.rowLines(&r)...)
	}
	return out
}

// layLines draw what is to be laid out: its things numbered, each part behind its name.
func (v *walkScreen) layLines(list []walk.LayItem) []string {
	t := v.Env.Theme
	var out []string
	for _, g := range session.LayGroups(list) {
		head := g.Head
		for _, l := range screen.WrapParts(t.Plain(theme.Safe(strings.Join(g.Items, "   "))), "   ",
			min(screen.WideText, v.W-2)-14) {
			out = append(out, fmt.Sprintf("     %-8s %s", head, l))
			head = ""
		}
	}
	return out
}
