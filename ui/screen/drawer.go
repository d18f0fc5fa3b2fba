package screen

import (
	"slices"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/model"
	"bench/oilcan/model/life"
	"bench/oilcan/ui/theme"
)

// drawer shows the spares in stock: what is counted, what is low; counting and receiving happen here.
type drawer struct {
	Base
	list
	all  bool // supplies that nobody counts, too
	form *form
	part string
	took bool // the form receives a delivery

	advice map[string]life.Advice
}

// Init reckons what to order.
func (s *drawer) Init() tea.Cmd { return s.reckon() }

// reckon asks, in a command, what to order. It answers beside Base.Read, whose last answer the form waits
// for.
func (s *drawer) reckon() tea.Cmd {
	id, data, lib := s.id, s.Data, s.Env.Library
	return func() tea.Msg {
		out := map[string]life.Advice{}
		for _, a := range advise(data.Bench, lib.All(), data.At) {
			out[a.Part] = a
		}
		return Result{Screen: id, Request: -1, Value: out}
	}
}

func newDrawer(e *Env) *drawer { return &drawer{Base: e.Base()} }

// parts is what is shown: what is kept, low things first, then the names nobody has counted where asked.
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

func (s *drawer) TakesText() bool { return s.form != nil && s.form.typing() }
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

// Keys are those that work now.
func (s *drawer) Keys() []Key {
	if s.form != nil {
		return s.form.keys()
	}
	does, says := "all names", "shows what nobody has counted yet, too"
	if s.all {
		does, says = "counted only", "shows only what is kept count of"
	}
	return []Key{
		On("enter", "count", "counts what is there, and says how many are kept at least", Do(func() { s.start(false) })),
		On("a", "add", "adds a delivery", Do(func() { s.start(true) })),
		s.moves("move", "", len(s.parts()), 10),
		On(".", does, says, Do(func() { s.all = !s.all })),
		back,
	}
}

// Help says how the drawer is kept.
func (s *drawer) Help() []HelpPart {
	return []HelpPart{{"the drawer", []string{
		"Count a part once; from then on swaps and care sessions take it out, and deliveries put it in. What was never counted stays \"not counted\".",
		"low\tno more left than the minimum you set, or none at all",
		"lead time\tthe days from order to delivery",
		"order by\tthe last day on which an order still comes before the drawer is empty with more than 5 %, or before the minimum is more likely reached than not; from the forecasts of all machines and the lives of their parts",
	}}}
}

func (s *drawer) Update(msg tea.Msg) (Screen, tea.Cmd) {
	var cmd tea.Cmd
	switch msg := msg.(type) {
	case Press:
		cmd = s.press(msg)
	case Result:
		if got, ok := msg.Value.(map[string]life.Advice); ok {
			s.advice = got
		}
		if s.form != nil && msg.Wrote && !s.Stale(msg) {
			if s.form.wrote(msg) {
				s.form = nil
				for i, n := range s.parts() {
					if n == s.part {
						s.at = i
					}
				}
			}
		}
	case DataChanged:
		s.Take(msg)
		cmd = s.reckon()
	default:
		s.Take(msg)
	}
	if s.Data != nil {
		s.keep(len(s.parts()))
	}
	return s, cmd
}

func (s *drawer) press(p Press) tea.Cmd {
	if s.form != nil {
		return s.form.press(p, s.form.keys())
	}
	cmd, _ := Act(s.Keys(), p)
	return cmd
}

// ask opens a form of rows and one that saves.
func (s *drawer) ask(save string, rows ...*formRow) {
	s.form = &form{verb: "save", write: s.save, leave: func() tea.Cmd { s.form = nil; return nil },
		check: func(r *formRow) string { _, bad := s.number(r); return bad },
		rows:  append(rows, &formRow{name: "save", kind: rowDo, ask: save})}
	s.form.hold()
}

// start opens the form for the part under the cursor.
func (s *drawer) start(receive bool) {
	s.part, s.took = s.parts()[s.at], receive
	st := s.Data.Bench.Drawer[s.part]
	if receive {
		s.ask("put them in", &formRow{name: "count", ask: "how many came", hint: "What was delivered, in pieces or the unit you count in."})
		return
	}
	count := &formRow{name: "count", ask: "how many are there", empty: "leave as it is"}
	least := &formRow{name: "minimum", ask: "order at", empty: "no minimum", hint: "Shown as low when no more than this many are left."}
	lead := &formRow{name: "lead", ask: "lead time in days", empty: "not known", hint: "From order to delivery."}
	if st != nil {
		if st.Count != nil {
			count.empty = "leave it at " + model.Number(*st.Count)
		}
		if st.Minimum > 0 {
			least.text.text = model.Digits(st.Minimum)
		}
		if st.Lead > 0 {
			lead.text.text = itoa(st.Lead)
		}
	}
	s.ask("save", count, least, lead)
}

// mostStock is above what a drawer holds of one thing, and above the days a delivery takes.
const mostStock = 10000

// number reads a row; nil where it is empty.
func (s *drawer) number(r *formRow) (*float64, string) {
	if r.kind != rowText || r.value() == "" {
		return nil, ""
	}
	if r.name == "lead" {
		days, err := model.ReadCount(r.value(), "d", mostStock)
		v := float64(days)
		return &v, Sentence(err)
	}
	v, err := model.ReadAmount(r.value(), "", func(v float64) bool { return v <= mostStock })
	switch {
	case err != nil:
		return nil, Sentence(err)
	case v > mostStock:
		return nil, "That is no count: type a number up to 10,000."
	}
	return &v, ""
}

func (s *drawer) save() tea.Cmd {
	move := &model.StockMove{Part: s.part}
	for _, r := range s.form.rows {
		v, bad := s.number(r)
		if r.bad = bad; bad != "" {
			s.form.goTo(r.name)
			return nil
		}
		switch {
		case r.name == "count" && s.took && (v == nil || *v == 0):
			r.bad = "Type how many came, or leave with esc."
			s.form.goTo(r.name)
			return nil
		case v == nil && r.name == "minimum" && r.held != r.empty:
			zero := 0.0
			move.Minimum = &zero
		case v == nil:
		case r.name == "count" && s.took:
			move.Change, move.Why = *v, "received"
		case r.name == "count":
			move.Counted, move.Why = v, "counted"
		case r.name == "minimum":
			move.Minimum = v
		case r.name == "lead":
			days := int(*v)
			move.Lead = &days
		}
	}
	if move.Counted == nil && move.Change == 0 && move.Minimum == nil && move.Lead == nil {
		s.form = nil
		return nil
	}
	s.form.saving = true
	return s.Append(model.Action{Facts: []model.Fact{{Kind: model.KindStock, Stock: move}}})
}

func (s *drawer) View() string {
	t := s.Env.Theme
	if s.form != nil {
		return s.form.view(t, s.W, s.H)
	}
	list := s.parts()
	head := t.Text.Dim.Text(fit(t, "   "+t.Pad("part or supply", 22)+" "+t.PadLeft("there", 11)+"  "+t.PadLeft("order at", 9)+"  lead time  order", s.W))
	lines := []string{head}
	if len(s.Data.Bench.Drawer) == 0 {
		lines = []string{"   Nothing is counted yet: choose a part and count it.", "", head}
	}
	foot := s.why(list)
	room := max(1, s.H-len(lines)-len(foot))
	top := inView(s.at, s.at+1, len(list), room)
	for i := top; i < min(len(list), top+room); i++ {
		lines = append(lines, s.row(list[i], i == s.at))
	}
	return strings.Join(append(pad(clip(lines, s.H-len(foot)), s.H-len(foot)), foot...), "\n")
}

// why says of the part under the cursor what its advice rests on.
func (s *drawer) why(list []string) []string {
	t := s.Env.Theme
	if s.H < 8 || s.at >= len(list) {
		return nil
	}
	a, ok := s.advice[list[s.at]]
	if !ok {
		return make([]string, whyLines+1)
	}
	text := theme.Safe(a.Part) + ": " + a.Why
	if a.OrderBy != nil {
		text += "; order " + itoa(a.Order)
		if a.Keep > 0 {
			text += ", keep " + itoa(a.Keep)
		}
	}
	out := []string{""}
	for _, l := range clip(theme.Wrap(t.Plain(text), s.W-2), whyLines) {
		out = append(out, fit(t, " "+l, s.W))
	}
	return pad(out, whyLines+1)
}

// whyLines is how many lines an advice has at the foot.
const whyLines = 2

func (s *drawer) row(name string, at bool) string {
	t := s.Env.Theme
	lead, shown := "   ", t.Pad(theme.Safe(name), 22)
	if at {
		lead, shown = " "+t.Text.Accent.Text(">")+" ", t.Text.Accent.Text(shown)
	}
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
			days = itoa(st.Lead) + " days"
		}
		if st.Low() {
			word = t.State.Due.Text("low")
		}
	}
	if a, ok := s.advice[name]; ok && a.OrderBy != nil {
		if a.OrderBy.Sub(s.Data.At) < 24*time.Hour {
			word = t.State.Due.Text("order " + itoa(a.Order) + " now")
		} else {
			word = itoa(a.Order) + " by " + a.OrderBy.In(s.Now.Location()).Format(time.DateOnly)
		}
	}
	return fit(t, lead+shown+" "+t.PadLeft(count, 11)+"  "+t.PadLeft(least, 9)+"  "+t.PadLeft(days, 9)+"  "+word, s.W)
}
