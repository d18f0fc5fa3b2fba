// Package drawer is what is in stock: counting, receiving, and what to order by when.
package drawer

import (
	"slices"
	"strconv"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/model"
	"bench/oilcan/model/life"
	"bench/oilcan/ui/screen"
	"bench/oilcan/ui/theme"
)

// drawer shows the spares in stock: what is counted, what is low; counting and receiving happen
// here.
type drawer struct {
	screen.Base
	screen.List
	all  bool // supplies that nobody counts, too
	form *screen.Form
	part string
	took bool // the form receives a delivery

	advice map[string]life.Advice
}

// Init reckons what to order.
func (s *drawer) Init() tea.Cmd { return s.reckon() }

// reckon asks, in a command, what to order. It answers beside Base.Read, whose last answer the form
// waits for.
func (s *drawer) reckon() tea.Cmd {
	id, data, lib := s.ID(), s.Data, s.Env.Library
	return func() tea.Msg {
		out := map[string]life.Advice{}
		for _, a := range life.Orders(data.Bench, lib.All(), data.At) {
			out[a.Part] = a
		}
		return screen.Result{Screen: id, Request: -1, Value: out}
	}
}

// New makes the drawer.
func New(e *screen.Env) screen.Screen { return &drawer{Base: e.Base()} }

// parts is what is shown: what is kept, low things first, then the names nobody has counted where
// asked.
func (s *drawer) parts() []string {
	var out []string
	for _, n := range model.SupplyNames {
		if s.Data.Bench.Drawer[n] != nil {
			out = append(out, n)
		}
	}
	slices.SortStableFunc(out, func(x, y string) int {
		lx, ly := s.Data.Bench.Drawer[x].Low(), s.Data.Bench.Drawer[y].Low()
		switch {
		case lx && !ly:
			return -1
		case ly && !lx:
			return 1
		}
		return 0
	})
	if s.all || len(out) == 0 {
		for _, n := range model.SupplyNames {
			if s.Data.Bench.Drawer[n] == nil {
				out = append(out, n)
			}
		}
	}
	return out
}

func (s *drawer) TakesText() bool { return s.form != nil && s.form.Typing() }
func (s *drawer) HasInner() bool  { return s.form != nil }

func (s *drawer) Title() (string, string) {
	switch {
	case s.form != nil && s.took:
		return "drawer   " + s.part + " received", ""
	case s.form != nil:
		return "drawer   count " + s.part, ""
	}
	return "drawer", ""
}

func (s *drawer) Keys() []screen.Key {
	if s.form != nil {
		return s.form.Keys()
	}
	does, says := "all names", "shows what nobody has counted yet, too"
	if s.all {
		does, says = "counted only", "shows only what is kept count of"
	}
	return []screen.Key{
		screen.On("enter", "count", "counts what is there, and says how many are kept at least",
			screen.Do(func() { s.start(false) })),
		screen.On("a", "add", "adds a delivery", screen.Do(func() { s.start(true) })),
		s.Moves("move", "", len(s.parts()), 10),
		screen.On(".", does, says, screen.Do(func() { s.all = !s.all })),
		screen.Back,
	}
}

// Help says how the drawer is kept.
func (s *drawer) Help() []screen.HelpPart {
	return []screen.HelpPart{{Head: "the drawer", Lines: []string{
		"Count a part once; from then on swaps and care sessions take it out, and deliveries put it in. What was never counted stays \"not counted\".",
		"low\tno more left than the minimum you set, or none at all",
		"lead time\tthe days from order to delivery",
		"order by\tthe last day on which an order still comes before the drawer is empty with more than 5 %, or before the minimum is more likely reached than not; from the forecasts of all machines and the lives of their parts",
	}}}
}

func (s *drawer) Update(msg tea.Msg) (screen.Screen, tea.Cmd) {
	var cmd tea.Cmd
	switch msg := msg.(type) {
	case screen.Press:
		cmd = s.press(msg)
	case screen.Result:
		if got, ok := msg.Value.(map[string]life.Advice); ok {
			s.advice = got
		}
		if s.form != nil && msg.Wrote && !s.Stale(msg) {
			if s.form.Wrote(msg) {
				s.form = nil
				for i, n := range s.parts() {
					if n == s.part {
						s.At = i
					}
				}
			}
		}
	case screen.DataChanged:
		s.Take(msg)
		cmd = s.reckon()
	default:
		s.Take(msg)
	}
	if s.Data != nil {
		s.Keep(len(s.parts()))
	}
	return s, cmd
}

func (s *drawer) press(p screen.Press) tea.Cmd {
	if s.form != nil {
		return s.form.Press(p, s.form.Keys())
	}
	cmd, _ := screen.Act(s.Keys(), p)
	return cmd
}

// ask opens a form of rows and one that saves.
func (s *drawer) ask(save string, rows ...*screen.Row) {
	s.form = &screen.Form{Verb: "save", Save: s.save, Leave: func() tea.Cmd {
		s.form = nil
		return nil
	},
		Check: func(r *screen.Row) string { _, bad := s.number(r); return bad },
		Rows:  append(rows, &screen.Row{Name: "save", Kind: screen.RowDo, Ask: save})}
	s.form.Hold()
}

// start opens the form for the part under the cursor.
func (s *drawer) start(receive bool) {
	s.part, s.took = s.parts()[s.At], receive
	st := s.Data.Bench.Drawer[s.part]
	if receive {
		s.ask("put them in", &screen.Row{Name: "count", Ask: "how many came",
			Hint: "What was delivered, in pieces or the unit you count in."})
		return
	}
	count := &screen.Row{Name: "count", Ask: "how many are there", Empty: "leave as it is"}
	least := &screen.Row{Name: "minimum", Ask: "minimum", Empty: "no minimum",
		Hint: "Shown as low when no more than this many are left."}
	lead := &screen.Row{Name: "lead", Ask: "lead time in days", Empty: "not known",
		Hint: "From order to delivery."}
	price := &screen.Row{Name: "price", Ask: "price of one", Empty: "not told",
		Hint: "What one costs, in the unit you count in: the figures add up what care costs."}
	if st != nil {
		if st.Price != nil {
			price.Text = screen.Known(model.Digits(*st.Price))
		}
		if st.Count != nil {
			count.Empty = "leave it at " + model.Number(*st.Count)
		}
		if st.Minimum > 0 {
			least.Text = screen.Known(model.Digits(st.Minimum))
		}
		if st.Lead > 0 {
			lead.Text = screen.Known(strconv.Itoa(st.Lead))
		}
	}
	s.ask("save", count, least, lead, price)
}

// mostStock is above what a drawer holds of one thing, and above the days a delivery takes.
const mostStock = 10000

// number reads a row; nil where it is empty.
func (s *drawer) number(r *screen.Row) (*float64, string) {
	if r.Kind != screen.RowText || r.Value() == "" {
		return nil, ""
	}
	if r.Name == "lead" {
		days, err := model.ReadCount(r.Value(), "d", mostStock)
		v := float64(days)
		return &v, screen.Sentence(err)
	}
	v, err := model.ReadAmount(r.Value(), "", func(v float64) bool { return v <= mostStock })
	switch {
	case err != nil:
		return nil, screen.Sentence(err)
	case v > mostStock:
		return nil, "That is no count: type a number up to 10 000."
	}
	return &v, ""
}

func (s *drawer) save() tea.Cmd {
	if !s.form.Sound() {
		return nil
	}
	move := &model.StockMove{Part: s.part}
	for _, r := range s.form.Rows {
		v, _ := s.number(r)
		switch {
		case r.Name == "count" && s.took && (v == nil || *v == 0):
			r.Bad = "Type how many came, or leave with esc."
			s.form.GoTo(r.Name)
			return nil
		case v == nil && r.Name == "minimum" && r.Held != r.Empty:
			move.Minimum = new(float64)
		case v == nil && r.Name == "price" && r.Held != r.Empty:
			move.Price = new(float64)
		case v == nil:
		case r.Name == "count" && s.took:
			move.Change, move.Why = *v, "received"
		case r.Name == "count":
			move.Counted, move.Why = v, "counted"
		case r.Name == "minimum":
			move.Minimum = v
		case r.Name == "price":
			move.Price = v
		case r.Name == "lead":
			days := int(*v)
			move.Lead = &days
		}
	}
	if move.Counted == nil && move.Change == 0 && move.Minimum == nil && move.Lead == nil &&
		move.Price == nil {
		s.form = nil
		return nil
	}
	s.form.Saving = true
	return s.Append(model.Action{Facts: []model.Fact{{Kind: model.KindStock, Stock: move}}})
}

func (s *drawer) View() string {
	t := s.Env.Theme
	if s.form != nil {
		return s.form.View(t, s.W, s.H)
	}
	list := s.parts()
	head := t.Text.Dim.Text(screen.Fit(t, "   "+t.Pad("part or supply", 22)+" "+
		t.PadLeft("in stock", 11)+"  "+t.PadLeft("minimum", 9)+"  lead time  order", s.W))
	lines := []string{head}
	if len(s.Data.Bench.Drawer) == 0 {
		lines = []string{"   Nothing is counted yet: choose a part and count it.", "", head}
	}
	foot := s.why(list)
	room := max(1, s.H-len(lines)-len(foot))
	top := screen.InView(s.At, s.At+1, len(list), room)
	for i := top; i < min(len(list), top+room); i++ {
		lines = append(lines, s.row(list[i], i == s.At))
	}
	return screen.Over(lines, foot, s.H)
}

// why says of the part under the cursor what its advice rests on.
func (s *drawer) why(list []string) []string {
	t := s.Env.Theme
	if s.H < 8 || s.At >= len(list) {
		return nil
	}
	a, ok := s.advice[list[s.At]]
	if !ok {
		return make([]string, whyLines+1)
	}
	text := theme.Safe(a.Part) + ": " + a.Why
	if a.OrderBy != nil {
		text += "; order " + strconv.Itoa(a.Order)
		if a.Keep > 0 {
			text += ", keep " + strconv.Itoa(a.Keep)
		}
	}
	out := []string{""}
	for _, l := range screen.Clip(theme.Wrap(t.Plain(text), s.W-2), whyLines) {
		out = append(out, screen.Fit(t, " "+l, s.W))
	}
	return screen.Pad(out, whyLines+1)
}

// whyLines is how many lines an advice has at the foot.
const whyLines = 2

func (s *drawer) row(name string, at bool) string {
	t := s.Env.Theme
	lead, shown := screen.UnderCursor(t, at, t.Pad(theme.Safe(name), 22))
	st := s.Data.Bench.Drawer[name]
	count, least, days, word := "not counted", "", "", ""
	if st != nil {
		if st.Count != nil {
			count = model.Number(*st.Count)
		}
		if st.Minimum > 0 {
			least = model.Number(st.Minimum)
		}
		if st.Lead > 0 {
			days = strconv.Itoa(st.Lead) + " days"
		}
		if st.Low() {
			word = t.State.Due.Text("low")
		}
	}
	if a, ok := s.advice[name]; ok && a.OrderBy != nil {
		if days == "" {
			days = strconv.Itoa(a.Lead) + " days?" // not told; the date rests on it
		}
		if a.OrderBy.Sub(s.Data.At) < 24*time.Hour {
			word = t.State.Due.Text("order " + strconv.Itoa(a.Order) + " now")
		} else {
			word = strconv.Itoa(a.Order) + " by " + model.Day(*a.OrderBy, s.Now)
		}
	}
	return screen.Fit(t, lead+shown+" "+t.PadLeft(count, 11)+"  "+t.PadLeft(least, 9)+"  "+
		t.PadLeft(days, 9)+"  "+word, s.W)
}
