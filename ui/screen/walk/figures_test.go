package walk_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
	"bench/oilcan/model/walk/walktest"
	"bench/oilcan/ui/screen"
	"bench/oilcan/ui/screen/screentest"
	screenwalk "bench/oilcan/ui/screen/walk"
	"bench/oilcan/ui/session"
)

// monthly is the care that comes round each month on a machine with a changer.
var monthly = []string{"fans-blow", "gears-blow", "blade-check", "wiper-check", "rods-wipe",
	"layer-lens-clean", "camera-clean",
	"belts-reset", "filter-swap", "screws-oil", "desiccant", "self-check"}

// figures are what a session costs at the keyboard, as a hand presses it.
type figures struct {
	prompts  int
	before   int // prompts before the first step at the machine
	keys     int
	readings int // keys of the numbers that are kept on record
	words    int // of cautions, in full or as briefs, once on a screen
	decide   int // rows and holds that are decided, a page passed at once being one
	wipe     int // screens on which a dirty hand is wiped: from the open door to the plug
	hands    float64
}

// share is the keyboard time as a part of the hands' time: 0.28 s a key and 1.35 s a decision
// (Card, Moran and Newell 1980, the keystroke-level model); 3 s to wipe a hand, from memory.
func (f figures) share() float64 {
	return (0.28*float64(f.keys) + 1.35*float64(f.decide) + 3*float64(f.wipe)) / (60 * f.hands)
}

// hand walks a session through the screens at 80x24, as a practised hand does, and counts.
type hand struct {
	d    *screentest.Desk
	at   session.Desk
	id   string
	now  time.Time
	f    figures
	on   string          // the screen that is looked at
	read map[string]bool // cautions on it
	open bool            // hands are in the machine
}

// pressed types keys, and tells how many a hand presses for it; ctrl+u, which empties a field
// before it is typed into, is the test's own.
func pressed(d *screentest.Desk, keys ...string) (n int) {
	for _, k := range keys {
		d.Keys(k)
		switch {
		case k == "ctrl+u":
		case screentest.KeyNames[k].Type != 0 || strings.Contains(k, "+"):
			n++
		default:
			n += len([]rune(k))
		}
	}
	return n
}

// press types, and counts.
func (h *hand) press(keys ...string) { h.f.keys += pressed(h.d, keys...) }

// begin plans the monthly care and begins it.
func (h *hand) begin(t *testing.T, m string) {
	t.Helper()
	h.d.Look()
	c, err := h.at.Choose(h.d.Bench().Machines[m], session.Choice{Only: monthly}, h.now)
	if err != nil {
		t.Fatal(err)
	}
	s, err := h.at.Begin(h.d.Bench().Machines[m], c, h.now)
	if err != nil {
		t.Fatal(err)
	}
	h.id, h.f = s.W.ID, figures{hands: c.Plan.HandsOn}
	h.d.Look()
	h.d.Send(screen.Open{To: screen.ToWalk{Session: s.W.ID, Fresh: true}})
}

// walk goes to the summary. The clock goes on by the minutes that the files say the work takes.
func (h *hand) walk(t *testing.T) {
	t.Helper()
	for range 900 {
		s, err := h.at.Open(h.id)
		if err != nil {
			t.Fatal(err)
		}
		p := s.W.Prompt(h.now)
		if p.Kind == walk.AskOver {
			h.d.Shows("closed")
			return
		}
		h.look(s, p)
		switch p.Kind {
		case walk.AskWait:
			h.wait(s, p)
		default:
			h.now = h.now.Add(work(s, p))
			h.d.Pass(h.now)
			h.answer(s)
		}
		h.d.Pass(h.now)
	}
	t.Fatalf("the session does not end:\n%s", h.d.View())
}

// practise walks to the end without a screen, so that the hand has done it more often.
func (h *hand) practise(t *testing.T) {
	t.Helper()
	s, err := h.at.Open(h.id)
	if err != nil {
		t.Fatal(err)
	}
	write := func(r walk.Reply, err error) bool {
		if err != nil || r.Refusal != "" {
			t.Fatalf("%v %s", err, r.Refusal)
		}
		if len(r.Facts) == 0 {
			return false
		}
		entries, err := h.at.Store.Append(s.Action(r, h.now))
		if err == nil {
			err = s.Written(entries)
		}
		if err != nil {
			t.Fatal(err)
		}
		return true
	}
	for !s.W.Ended {
		c := s.Context(h.now)
		switch p := s.W.Prompt(h.now); p.Kind {
		case walk.AskNone:
		case walk.AskWait:
			h.now = h.now.Add(p.Left)
		default:
			h.now = h.now.Add(20 * time.Second)
			write(s.W.Answer(c, walktest.Good(s.W, c, p)))
		}
		for write(s.W.Auto(s.Context(h.now))) {
		}
	}
}

// work is how long what is asked takes: its block's minutes of hands by its steps, all rows of a
// page that pass together.
func work(s *session.Session, p walk.Prompt) time.Duration {
	const look = 3 * time.Second
	if p.Kind != walk.AskStep || p.Block == nil {
		return look
	}
	_, of := s.W.StepOf()
	rows := 1
	if pg := s.W.Page(s.Context(s.W.LastAt)); pg != nil {
		for _, r := range pg.Rows {
			if !r.Done && r.Rank == model.PlainLine && r.Seen != "" {
				rows++
			}
		}
		rows = max(1, rows-1)
	}
	return max(look, time.Duration(p.Block.Proc.HandsOn*float64(rows)/float64(max(1, of))*float64(
		time.Minute)))
}

// look counts the screen that stands before the hand, where it is another one, with the cautions on
// it.
func (h *hand) look(s *session.Session, p walk.Prompt) {
	c := s.Context(h.now)
	on, cautions := fmt.Sprint(p.Kind, s.W.Ordinal), s.W.ShownCautions(c)
	switch pg := s.W.Page(c); {
	case pg != nil:
		on, cautions = pg.Block.ID+"/"+pg.Rows[0].Step.Name, append(slices.Clone(pg.Cautions),
			pg.Beside...)
	case p.Kind == walk.AskStep || p.Kind == walk.AskWait:
		on = p.Block.ID + "/" + p.Step.Name
		if rows := s.W.Together(); rows != nil {
			on = p.Block.ID + "/" + rows[0].Step.Name
		}
	default:
		cautions = nil
	}
	if on != h.on {
		h.on, h.read = on, map[string]bool{}
		h.f.prompts++
		h.count(s)
	}
	if p.Kind == walk.AskWait {
		for _, o := range s.W.Meanwhile(c) {
			cautions = append(cautions, o.Cautions...)
		}
	}
	for _, x := range cautions {
		text := x.Harm + " " + x.Avoid
		if !x.Whole {
			text = x.Brief
		}
		if !h.read[text] {
			h.read[text] = true
			h.f.words += len(strings.Fields(text))
		}
	}
}

// count counts a new screen where it costs a wiped hand, or comes before the work.
func (h *hand) count(s *session.Session) {
	b := s.W.Block()
	switch {
	case b == nil:
	case b.ID == "open-door":
		h.open = true
	case b.ID == "plug-in":
		h.open = false
	}
	if h.open {
		h.f.wipe++
	}
	if b == nil || b.ID == "begin" || b.ID == "lay-out" || s.W.Prompt(h.now).Kind == walk.AskState {
		if h.f.prompts == h.f.before+1 {
			h.f.before++
		}
	}
}

// wait does what may be done meanwhile, and waits for the rest.
func (h *hand) wait(s *session.Session, p walk.Prompt) {
	h.d.Pass(h.now)
	if len(s.W.Meanwhile(s.Context(h.now))) > 0 {
		h.f.decide++
		h.press("space")
		return
	}
	h.now = h.now.Add(p.Left)
}

// answer gives the ordinary answer of what stands there, by the keys that the screen names.
func (h *hand) answer(s *session.Session) {
	h.scroll()
	c := s.Context(h.now)
	p := s.W.Prompt(h.now)
	h.f.decide++
	row, _ := screenwalk.RowNow(s.W.Page(c))
	typed := walktest.Good(s.W, c, p)
	if name := s.W.Blank(c); name != "" && name != "-" { // enter alone signs, and says so before
		h.d.Shows("enter", "sign as "+name)
	}
	switch keys := stateKeysFor(s, h.now); {
	case keys != nil:
		h.f.decide += len(s.W.StateRows()) - 1
		h.press(keys...)
	case s.W.Blank(c) != "", row != nil && row.Seen != "" && row.Rank == model.PlainLine:
		h.press("enter")
	case row != nil && row.Seen != "" || row == nil && p.Kind == walk.AskStep &&
		s.W.Ordinary(c) != "":
		h.press("space")
	case row != nil && row.Step.Gate == model.Choice:
		h.press("1")
	case row != nil:
		h.press("ctrl+u", typed, "enter")
		h.readings(row.Step, typed)
	default:
		h.press(keysFor(s, p, typed, h.now)...)
		if p.Kind == walk.AskStep {
			h.readings(p.Step, typed)
		}
	}
}

// readings counts the keys of a number that is kept on record.
func (h *hand) readings(s *model.Step, text string) {
	if s.Gate == model.Measure || s.Meter != "" {
		h.f.readings += len(text) + 1
	}
}

// scroll reads on where a page is longer than the window.
func (h *hand) scroll() {
	for n := 0; strings.Contains(h.d.View(), "lines below") && n < 9; n++ {
		h.press("space")
	}
}

// TestWhatASessionCosts walks the monthly care with real keys through the real screens, in steps
// and, by a hand that has done it so often that pages come by themselves, in pages. It prints the
// table of DEVELOPERS.md, and none of its figures may grow.
func TestWhatASessionCosts(t *testing.T) {
	t.Parallel()
	h := &hand{now: screentest.Now}
	d, at, m := screentest.Session(t, func() time.Time { return h.now })
	h.d, h.at = d, at
	d.Send(tea.WindowSizeMsg{Width: 80, Height: 24})
	var paces []figures
	h.at.Pace, d.E.Desk.Pace = walk.ByUse, walk.ByUse
	for n := range 4 {
		h.begin(t, m.ID)
		if n == 0 || n == 3 {
			h.walk(t)
			paces = append(paces, h.f)
		} else {
			h.practise(t)
		}
		h.now = h.now.AddDate(0, 0, 20)
	}
	steps, pages := paces[0], paces[1]
	line := func(name string, a, b int) { t.Logf("%-44s %6d %6d", name, a, b) }
	most := []figures{{prompts: 157, before: 2, keys: 240, readings: 48, words: 1665},
		{prompts: 65, before: 2, keys: 198, readings: 48, words: 1183}}
	for i, is := range paces {
		at := most[i]
		if is.prompts > at.prompts || is.before > at.before || is.keys > at.keys ||
			is.words > at.words || is.keys-is.readings > at.keys-at.readings {
			t.Errorf("%s: it costs %+v, and cost %+v", []string{"steps", "pages"}[i], is, at)
		}
	}
	t.Logf("%-44s %6s %6s", "", "steps", "pages")
	line("prompts, begin to summary", steps.prompts, pages.prompts)
	line("keys", steps.keys, pages.keys)
	line("of them readings for the record", steps.readings, pages.readings)
	line("words of cautions", steps.words, pages.words)
	line("prompts before the first step at the machine", steps.before, pages.before)
	t.Logf("%-44s %5.1f%% %5.1f%%", fmt.Sprintf("keyboard time, of %.0f min of hands", steps.hands),
		100*steps.share(), 100*pages.share())
}
