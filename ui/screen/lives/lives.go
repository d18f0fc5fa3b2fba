// Package lives is how long the parts of a machine last on this bench, and when to renew them.
package lives

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/model"
	"bench/oilcan/model/life"
	"bench/oilcan/ui/screen"
	"bench/oilcan/ui/theme"
)

// lives is the page on how long the parts of a machine last: the rule of thumb beside the bench's
// own lives, drawn, and the age at which to renew them for the costs a person states.
type lives struct {
	screen.Base
	screen.Pager
	of    string
	parts map[string]*screen.PartLife

	asking             bool
	costs              screen.Field
	bad                string
	planned, unplanned float64 // 0: not stated
}

// New makes the lives of a machine's parts.
func New(e *screen.Env, machine string) screen.Screen { return &lives{Base: e.Base(), of: machine} }

func (s *lives) Init() tea.Cmd { return s.fit() }

// fit fits the lives in a command.
func (s *lives) fit() tea.Cmd {
	data, lib, of := s.Data, s.Env.Library, s.of
	return s.Read(func(screen.Store) (any, error) {
		return screen.LivesOn(data, lib.All(), of),
			nil
	})
}

func (s *lives) SetSize(w, h int) {
	s.Base.SetSize(w, h)
	s.lay()
}
func (s *lives) TakesText() bool { return s.asking }
func (s *lives) HasInner() bool  { return s.asking }

func (s *lives) Title() (string, string) {
	return s.Data.NameOf(s.of) + "   how long its parts last", ""
}

func (s *lives) Keys() []screen.Key {
	if s.asking {
		return []screen.Key{screen.On("enter", "reckon", "", screen.Do(s.state)),
			screen.On("esc", "back", "", screen.Do(func() { s.asking = false }))}
	}
	ks := []screen.Key{screen.On("e", "costs",
		"states what a planned and an unplanned change cost, and shows when to renew each part",
		screen.Do(func() { s.asking, s.costs, s.bad = true, screen.Field{}, "" }))}
	return append(append(ks, s.Pager.Keys()...), screen.Back)
}

// Help says how to read the page.
func (s *lives) Help() []screen.HelpPart {
	return []screen.HelpPart{{Head: "lives", Lines: []string{
		"Every renewed part leaves a life: worn or failed is an end; taken off sound or lost says only that it lasted so long. All machines of the bench count together.",
		"The plot sets the share of parts that have ended (upward) against their use (to the right), on scales that make a Weibull life a straight line: steep is wear-out, 45 degrees or less is chance.",
		"With fewer than five ends of its own the rule of thumb still leads. A part that does not show wear-out is not renewed by age: a new one may give out as soon as the old one.",
	}}}
}

func (s *lives) Update(msg tea.Msg) (screen.Screen, tea.Cmd) {
	var cmd tea.Cmd
	switch msg := msg.(type) {
	case screen.Press:
		s.press(msg)
	case screen.Result:
		if got, ok := msg.Value.(map[string]*screen.PartLife); ok && !s.Stale(msg) {
			s.parts = got
		}
	case screen.DataChanged:
		s.Take(msg)
		cmd = s.fit()
	default:
		s.Take(msg)
	}
	s.lay()
	return s, cmd
}

func (s *lives) press(p screen.Press) {
	if _, taken := screen.Act(s.Keys(), p); !taken && s.asking {
		s.costs.Press(p.Msg)
	}
}

func (s *lives) state() {
	words := strings.Fields(s.costs.Text)
	if len(words) == 2 {
		planned, err := model.ReadAmount(words[0], "", nil)
		unplanned, err2 := model.ReadAmount(words[1], "", nil)
		switch both := errors.Join(err, err2); {
		case both == nil && planned > 0 && unplanned > 0:
			s.planned, s.unplanned, s.asking = planned, unplanned, false
			return
		case errors.As(both, &model.TwoWays{}):
			s.bad = screen.Sentence(cmp.Or(err, err2))
			return
		}
	}
	s.bad = "Type two numbers above nothing, the planned change first: 5 40"
}

func (s *lives) lay() {
	if s.Data == nil || s.W == 0 {
		return
	}
	s.Fill(s.lines(), s.H-len(s.foot()))
}

func (s *lives) foot() []string {
	if !s.asking {
		return nil
	}
	t := s.Env.Theme
	out := []string{"", " " +
		t.Text.Strong.Text("cost of a planned and an unplanned change, any unit") + "  " +
		t.Plain(s.costs.Drawn(0))}
	if s.bad != "" {
		out = append(out, " "+s.bad)
	}
	for i := range out {
		out[i] = screen.Fit(t, out[i], s.W)
	}
	return out
}

// View gives the page as last laid out.
func (s *lives) View() string {
	return screen.Over(s.Pager.Lines(s.Env.Theme, s.W), s.foot(), s.H)
}

func (s *lives) lines() []string {
	t := s.Env.Theme
	if s.parts == nil {
		return []string{" reckoning"}
	}
	var out []string
	for _, name := range screen.Sorted(s.parts) {
		p := s.parts[name]
		out = append(out, " "+t.Text.Strong.Text(theme.Safe(name)))
		say := func(text string) {
			for _, l := range theme.Wrap(t.Plain(text), min(s.W-6, 96)) {
				out = append(out, "   "+l)
			}
		}
		say(p.Life.Words(p.Band.Meter.Unit()))
		if p.Life.Own != nil && p.Life.Ends >= 3 {
			out = append(out, "")
			out = append(out, s.plot(p)...)
			out = append(out, "")
		}
		if text := s.renew(p); text != "" {
			say(text)
		}
		out = append(out, "")
	}
	if len(out) == 0 {
		return []string{" No part of this machine has been renewed yet: lives begin with the first swap (w)."}
	}
	for i := range out {
		out[i] = screen.Fit(t, out[i], s.W)
	}
	return out
}

// renew says at what age to renew a part for the costs stated.
func (s *lives) renew(p *screen.PartLife) string {
	if !(s.planned > 0) {
		return ""
	}
	costs := fmt.Sprintf("For %s planned and %s unplanned: ", model.Number(s.planned),
		model.Number(s.unplanned))
	if p.Life.Own == nil {
		return costs + "no telling without own ends; keep to the rule of thumb"
	}
	r, err := p.Life.Own.Replace(s.planned, s.unplanned)
	if err != nil {
		return screen.Sentence(err)
	}
	if math.IsInf(r.Age, 1) {
		return costs + r.Why
	}
	return costs + r.Why + " (" + p.Band.Meter.Unit() + ")"
}

// Sizes of a plot, in cells.
const (
	plotHigh  = 9
	plotWide  = 60
	plotLabel = 9 // of the shares at its left
)

// plotShares are the shares named at the side of a plot, from the top.
var plotShares = [...]float64{0.95, 0.5, 0.1}

// plot draws the ends of a part and the life fitted to them on Weibull scales.
func (s *lives) plot(p *screen.PartLife) []string {
	t := s.Env.Theme
	w := min(plotWide, s.W-plotLabel-4)
	if w < 20 {
		return nil
	}
	own := p.Life.Own
	ranks := life.Ranks(p.Observed)
	low, high := own.Life(0.05), own.Life(0.95)
	for _, r := range ranks {
		low, high = math.Min(low, r.Used), math.Max(high, r.Used)
	}
	low, high = math.Log(low*0.9), math.Log(high*1.1)
	scale := func(share float64) float64 { return math.Log(-math.Log1p(-share)) }
	bottom, top := scale(0.03), scale(0.98)
	at := func(used, share float64) theme.Mark {
		return theme.Mark{X: (math.Log(used) - low) / (high - low),
			Y: (scale(share) - bottom) / (top - bottom)}
	}
	var line, marks []theme.Mark
	for i := range 4 * w {
		used := math.Exp(low + (high-low)*(float64(i)+0.5)/float64(4*w))
		line = append(line, at(used, 1-own.Survives(used)))
	}
	for _, r := range ranks {
		marks = append(marks, at(r.Used, r.Share))
	}
	rows := t.Plot(w, plotHigh, line, marks)
	labels := map[int]string{}
	for _, share := range plotShares {
		y := (scale(share) - bottom) / (top - bottom)
		labels[plotHigh-1-int(y*plotHigh)] = fmt.Sprintf("%.0f %%", 100*share)
	}
	var out []string
	for i, row := range rows {
		out = append(out, "   "+t.Text.Dim.Text(t.PadLeft(labels[i], plotLabel-3)+" "+t.Bar(1, 0))+
			strings.TrimRight(row, " "))
	}
	middle := model.Number(math.Round(own.Life(0.5)))
	left, right := model.Number(math.Round(math.Exp(low))), model.Number(math.Round(math.Exp(high)))
	axis := t.Pad(left, max(len(left)+1, int(at(own.Life(0.5), 0.5).X*float64(w))-len(middle)/2)) +
		middle
	return append(out, t.Text.Dim.Text("   "+t.Pad("", plotLabel-1)+
		t.Between(axis, right+" "+p.Band.Meter.Unit(), w)))
}
