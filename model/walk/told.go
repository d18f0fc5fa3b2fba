package walk

import (
	"slices"
	"strings"
	"time"

	"bench/oilcan/model"
)

// Telling tells whether the session is told from paper, and something of it is not told yet.
func (at *progress) Telling() bool { return at.telling }

// TellsPast tells whether what is said now is of then, when the work on paper was done.
func (w *Walk) TellsPast() bool {
	return w.telling && !w.needs && (w.Block() != nil || w.unended != nil)
}

// toTell lays what is told: the care as it was planned, without the paper at its end. Set-up
// actions are not told: what they changed is asked as of now.
func (w *Walk) toTell() Reply {
	var refs []model.BlockRef
	for _, r := range w.Begun.Items {
		if !isPaper(w.texts[r.Hash]) {
			refs = append(refs, r)
		}
	}
	return Reply{Facts: []model.Fact{w.walked(model.Walked{What: Planned, Plan: refs})}}
}

// untold is what no sheet tells: how the machine is handed back, as of now.
func (w *Walk) untold() []*model.Procedure {
	var out []*model.Procedure
	for _, r := range w.Begun.Items {
		p := w.texts[r.Hash]
		if !w.Begun.Told.IsZero() && isPaper(p) && !slices.ContainsFunc(w.Blocks,
			func(b *Block) bool { return b.ID == r.ID }) {
			out = append(out, p)
		}
	}
	return out
}

// foldTold ends the telling where all is told. How the machine stands is asked, unless all that was
// told is looks that need none of it.
func (w *Walk) foldTold() {
	w.endTelling()
	w.needs = true
	needs := func(r model.BlockRef) bool { return len(w.texts[r.Hash].Require) > 0 }
	if slices.ContainsFunc(w.Begun.Items, needs) || !w.Ledger().Empty() || unsettled(w.Latched()) {
		w.foldResumed()
		w.left = model.Condition{} // how it stood before, or in between, is no guess
	}
}

// endTelling ends what a telling began, whether all was told or it stopped: no clock of then runs
// on, what was wetted is asked for, and its hands and waiting are those of the work on paper.
func (w *Walk) endTelling() {
	w.telling = false
	w.Clocks, w.Waits = map[string]time.Time{}, nil
	w.aired = w.Believed[model.Vapour] == model.Drying
	hands := 0.0
	for _, b := range w.Blocks {
		if !w.toldOf(b) {
			continue
		}
		hands += b.Proc.HandsOn
		w.powered = w.powered || b.Proc.Require[model.Power] == model.On
	}
	took := max(0, w.Begun.Told.Sub(w.Start).Minutes())
	w.hands += min(hands, took)
	w.waited += max(0, took-hands)
}

// toldNow puts what was said last at the time it was said, not at that it tells of: what is asked
// from then on is asked at once, and no break lies between.
func (w *Walk) toldNow(e model.Entry) {
	if !e.Written.After(w.LastAt) {
		return
	}
	if e.Written.Sub(w.LastAt) >= overnight {
		w.heated = false
	}
	w.LastAt = e.Written.In(e.At.Location())
}

// loseHere books what the current step found missing. Told from paper, the row stays until it is told
// how it came out at last: said once more it is the same piece.
func (w *Walk) loseHere(what string) {
	if w.telling && w.untilTold[w.here()] == what {
		return
	}
	w.lose(what)
	if w.telling {
		w.untilTold[w.here()] = what
	}
}

// cameOut takes back what the current row was told to find missing: it came out well at last.
func (w *Walk) cameOut() {
	if what, was := w.untilTold[w.here()]; was {
		delete(w.untilTold, w.here())
		w.foldFound(&model.Walked{Item: what})
	}
}

// toldOf tells whether a row of a block was told from paper.
func (at *progress) toldOf(b *Block) bool {
	return slices.ContainsFunc(b.Proc.Steps, func(s model.Step) bool {
		return at.how[stepKey(b.key, s.Name)].how == model.OnPaper
	})
}

// ToldBlock is the procedure that is told: the one whose old part is asked for stands behind the
// walk already. nil for none.
func (w *Walk) ToldBlock() *Block {
	if w.unended != nil {
		if b := w.blockOf(w.unended); b != nil {
			return b
		}
	}
	return w.Block()
}

// ToldAt is when the procedure that is told now was done, as its rows told so far say; zero where
// none was told.
func (w *Walk) ToldAt() (t time.Time) {
	b := w.ToldBlock()
	if b == nil {
		return t
	}
	for _, s := range b.Proc.Steps {
		k := stepKey(b.key, s.Name)
		if a := w.answers[k]; w.how[k].how == model.OnPaper && a.At.After(t) {
			t = a.At
		}
	}
	return t
}

// tellPrompt is what the telling asks for: the rows of a procedure, or how its old part was.
func (w *Walk) tellPrompt() Prompt {
	b, s := w.Block(), w.Step()
	switch {
	case w.unended != nil:
		return w.endPrompt()
	case w.needs || s == nil:
		return Prompt{Kind: AskNone}
	}
	return w.askStep(b, s)
}

const airedQuestion = "Minutes it aired by the sheet after the last wet wipe, plug out, " +
	"door and top open (0: not)?"

// judgeAired takes for how long vapour of work on paper was aired. It is told by its minutes, never
// by a tick.
func (w *Walk) judgeAired(text string, now time.Time) Reply {
	n, err := model.ReadAmount(text, "min", nil)
	switch {
	case err != nil || n < 0:
		return refuse("Type the minutes it aired, 0 where it did not.")
	case n > now.Sub(w.Start).Minutes():
		return refuse("%s min ago the work had not begun: type for how long it aired after it.",
			model.Figure(n))
	}
	x := model.Walked{What: Said, Variable: model.Vapour, Number: &n, Unit: "min",
		Answer: model.Drying}
	if n >= w.airsFor().Minutes() {
		x.Answer = string(model.Clear)
	}
	return Reply{Facts: []model.Fact{w.walked(x)}}
}

// airsFor is how long vapour takes to clear: the longest wait of airing there is.
func (g *given) airsFor() time.Duration {
	seconds := 0
	for _, p := range g.setups {
		for _, s := range p.Steps {
			if s.Gate == model.Wait && s.Clock == model.Airing {
				seconds = max(seconds, s.Seconds)
			}
		}
	}
	return time.Duration(max(seconds, airsAtLeast)) * time.Second
}

// airsAtLeast is how long vapour takes to clear where no file says so, seconds (common practice).
const airsAtLeast = 600

// untellable tells whether what follows a miss cannot be told of work that is over: reading it
// again, or going back.
func untellable(m *model.Miss) bool {
	return m == nil || m.Then == model.ThenWait || m.Then == model.ThenRedo
}

const toldElse = " Tell how it came out at last, or say skip and why."

// judgeTold judges what is told of a row.
func (w *Walk) judgeTold(c Context, s *model.Step, text string) Reply {
	verb, why, _ := strings.Cut(text, " ")
	yes := model.IsYes(text) || strings.EqualFold(text, s.Value) || strings.EqualFold(text, waitedOn)
	switch why = strings.TrimSpace(why); {
	case strings.EqualFold(verb, "skip") && !strings.ContainsFunc(why, letterOrDigit):
		return refuse("Say why: skip, then the reason.")
	case strings.EqualFold(verb, "skip"):
		return Reply{Facts: []model.Fact{w.walked(model.Walked{What: Skipped, Why: why})}}
	case strings.EqualFold(text, "fail") && s.Miss == nil && s.Gate != model.Choice:
		return refuse("Say skip and why it was not done.")
	case s.Gate == model.State && yes:
		return w.passed1(model.Walked{What: Passed, Answer: s.Value})
	case s.Gate == model.Wait && yes:
		return w.passed1(model.Walked{What: Passed, Answer: waitedOn})
	case s.Gate == model.State || s.Gate == model.Wait:
		return refuse("The sheet wants it so here. If it was not, say skip and why.")
	}
	// on paper it was read again until it was left so
	w.tries = map[string]int{w.here(): triesOver}
	return w.judgeStep(c, s, text)
}

// triesOver is more often than any file lets a step be gone back to.
const triesOver = 1 << 20

// waitedOn passes a wait that was sat out on paper.
const waitedOn = "waited"
