package walk

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/model/plan"
)

// PromptKind says what the walk asks for now.
type PromptKind string

// The kinds of prompts.
const (
	AskResume PromptKind = "resume" // the walk was interrupted: go on?
	AskState  PromptKind = "state"  // how the machine stands
	AskLedger PromptKind = "ledger" // count what the book says is out or in
	AskZero   PromptKind = "zero"   // bring back what is still out or in, then count what is left
	AskFind   PromptKind = "find"   // a piece is missing
	AskEnd    PromptKind = "end"    // how the old part was
	// something to lay out is not there: which, and what to do without it
	AskLack PromptKind = "lack"
	AskStep PromptKind = "step"
	AskWait PromptKind = "wait" // a wait stands before the next step
	AskNone PromptKind = "none" // nothing: Auto goes on by itself
	AskOver PromptKind = "over" // the session has ended
)

// Prompt is what stands before the person.
type Prompt struct {
	Kind     PromptKind
	Block    *Block
	Step     *model.Step
	Question string
	Options  []string // the words that can answer, where they are a closed set
	Unit     string
	Tag      bool // the id on the tag of the machine's plug is an answer
	Variable model.Variable
	Item     string         // ledger name, with its prefix
	Want     int            // what the book says of Item
	Against  model.Variable // what was said of it speaks against Want
	Wait     *Running
	Left     time.Duration
	Refusal  string // why the last answer did not pass
	Stopped  string // set after a stop finding
}

// Prompt gives what the walk asks for at an instant.
func (w *Walk) Prompt(now time.Time) Prompt {
	p := w.prompt(now)
	p.Refusal, p.Stopped = w.refused, w.Stopped
	return p
}

func (w *Walk) prompt(now time.Time) Prompt {
	switch {
	case w.Ended:
		return Prompt{Kind: AskOver}
	case w.telling && !w.paused:
		return w.tellPrompt()
	case w.paused || w.Interrupted(now):
		return Prompt{Kind: AskResume, Question: "Go on?", Options: []string{"ok"}}
	case len(w.toAsk) > 0 && w.toAsk[0] == model.Power:
		return w.statePrompt(model.Power)
	case w.cutting():
		return w.stepPrompt(now)
	case len(w.lost) > 0 && w.dark():
		return w.findPrompt()
	case w.unended != nil:
		return w.endPrompt()
	case w.contradicted() != "":
		return w.ledgerPrompt(AskLedger, w.contradicted())
	case len(w.toAsk) > 0:
		return w.statePrompt(w.toAsk[0])
	case len(w.toCount) > 0:
		return w.ledgerPrompt(AskLedger, w.toCount[0])
	case w.lack != nil:
		return w.lackPrompt()
	case w.needs:
		return Prompt{Kind: AskNone}
	}
	if item := w.blocking(); item != "" {
		return w.ledgerPrompt(AskZero, item)
	}
	return w.stepPrompt(now)
}

// endPrompt asks how a renewed part's old one was.
func (w *Walk) endPrompt() Prompt {
	return Prompt{Kind: AskEnd, Item: w.unended.part, Options: model.Words(model.Ends),
		Question: "How was the old " + w.unended.part + "?"}
}

// stepPrompt is what the current step asks, or the wait before it.
func (w *Walk) stepPrompt(now time.Time) Prompt {
	b, s := w.Block(), w.Step()
	if s == nil {
		return Prompt{Kind: AskNone}
	}
	if r := w.standing(now); r != nil {
		return Prompt{Kind: AskWait, Block: b, Step: s, Wait: r, Left: r.Until.Sub(now),
			Question: r.Why}
	}
	if s.Gate == model.Wait {
		if v := w.shuts(s); v != "" {
			p := w.statePrompt(v)
			p.Question = "Vapour leaves only with door and top open. " + p.Question
			return p
		}
		return Prompt{Kind: AskNone, Block: b, Step: s}
	}
	return w.askStep(b, s)
}

// askStep is what a step asks for.
func (w *Walk) askStep(b *Block, s *model.Step) Prompt {
	return Prompt{Kind: AskStep, Block: b, Step: s, Question: w.question(s),
		Options: w.Choices(s), Unit: s.Unit, Tag: w.WantsTag(s)}
}

// Interrupted tells whether over half an hour has gone by with no answer and no wait running: then
// the state of the machine counts as unknown.
func (w *Walk) Interrupted(now time.Time) bool {
	last := w.LastAt
	for _, r := range w.Waits {
		if r.Until.After(last) {
			last = r.Until
		}
	}
	return !last.IsZero() && now.Sub(last) > maxIdle
}

// standing is the wait that keeps the current step from going on, if any.
func (w *Walk) standing(now time.Time) *Running {
	b, s := w.Block(), w.Step()
	for i := range w.Waits {
		r := &w.Waits[i]
		if !r.Until.After(now) {
			continue
		}
		here := r.Key == w.here()
		named := r.Block == b.key && r.Before == s.Name
		power := r.Before == "power" &&
			(b.ID == plugIn || (s.Gate == model.State && s.Variable == model.Power &&
				s.Value == model.On))
		if here || named || power {
			return r
		}
	}
	return nil
}

// shuts is what keeps the air of a wait for vapour from leaving, "" where nothing does.
func (w *Walk) shuts(s *model.Step) model.Variable {
	if s.Clock != model.Airing || w.Believed[model.Vapour] != model.Drying || w.airs() {
		return ""
	}
	if model.Door.Exists(w.Features()) && w.Believed[model.Door] != model.Open {
		return model.Door
	}
	return model.Top
}

// blocking is a ledger item that must be brought back before the current step or the end, "" if
// none.
func (w *Walk) blocking() string {
	b, s := w.Block(), w.Step()
	l := w.Ledger()
	delete(l.Flags, lostPiece) // it is asked for, or power is locked
	if s == nil {
		return first(w.due(l), func(string) bool { return false })
	}
	if l.Flags[model.FlagOil] != "" && w.moves != nil && closesUp(b) && !sets(b, model.FlagOil) {
		return "flag:oil"
	}
	if closes(b) {
		if item := first(w.due(l), func(item string) bool {
			return slices.Contains(w.opened, strings.TrimPrefix(item, insidePrefix))
		}); item != "" {
			return item
		}
	}
	if s.Gate == model.State && s.Variable == model.Power && s.Value != model.Unplugged &&
		(s.Value == model.On || w.Believed[model.Power] == model.Unplugged) {
		return first(l, w.mayRemain(w.owner()))
	}
	return ""
}

// closes tells whether a set-up action puts something back over what care may have left out: what
// is out is brought back before that, not after.
func closes(b *Block) bool {
	c := b.Proc.Change
	if b.Kind != model.BlockSetUp || c == nil {
		return false
	}
	switch c.Variable {
	case model.Cover, model.Top, model.Changer, model.Door:
		return c.To == model.Values[c.Variable][0]
	}
	return false
}

// owner is the block whose owned exception the current step runs under, or the set-up action that
// brings power over the blocks of a gantry; "" for none.
func (w *Walk) owner() string {
	if b, s := w.Block(), w.Step(); s != nil && (s.Own || plan.PassesBlocks(w.Features(), b.ID)) {
		return b.ID
	}
	return ""
}

// mayRemain tells what an owned exception lets stand out or in while power is on: what it names,
// and what the set-up actions took out, for its block was entered with the machine open.
func (g *given) mayRemain(owner string) func(item string) bool {
	e := model.ExceptionOf(owner)
	return func(item string) bool {
		if e.Power && slices.Contains(g.opened, item) {
			return true
		}
		if name, ok := strings.CutPrefix(item, insidePrefix); ok {
			return slices.Contains(e.Inside, name) || name == model.ItemBlocks &&
				plan.PassesBlocks(g.Features(), owner)
		}
		return slices.Contains(e.Out, item) || slices.Contains(e.Flags, item) ||
			(e.Power && item == model.FlagOil)
	}
}

// closesUp tells whether wet oil forbids a block: it would close the machine or work on lenses.
func closesUp(b *Block) bool {
	switch b.ID {
	case "top-on", "changer-on", "close-door", plugIn:
		return true
	}
	return len(b.Proc.Rung) > 0 && (b.Proc.Rung[0].Is == model.RungAiring || b.Proc.Rung[0].Is == model.RungDust)
}

func sets(b *Block, flag string) bool {
	return slices.ContainsFunc(b.Proc.Steps, func(s model.Step) bool {
		_, ok := s.Set[flag]
		return ok
	})
}

// first is the first item of a ledger, in a fixed order, that may not remain; a strand left in the
// toolhead never holds a session up.
func first(l model.Ledger, may func(string) bool) string {
	for _, k := range slices.Sorted(maps.Keys(l.Out)) {
		if !may(k) {
			return k
		}
	}
	for _, k := range slices.Sorted(maps.Keys(l.Inside)) {
		if !may(insidePrefix + k) {
			return insidePrefix + k
		}
	}
	for _, k := range slices.Sorted(maps.Keys(l.Flags)) {
		if k != stub && !may(k) {
			return "flag:" + k
		}
	}
	return ""
}

func (g *given) statePrompt(v model.Variable) Prompt {
	p := Prompt{Kind: AskState, Variable: v, Question: stateQuestion(v, g.Begun.Settings),
		Options: slices.Clone(model.Values[v])}
	if v == model.Bed {
		p.Question = "Bed: high (anywhere off its stops), low (at rest on them) or on blocks?"
		if g.bedWord() == "gantry" {
			p.Question = "Gantry: high (anywhere off its stops), low (down on them) or on blocks?"
		}
		p.Options = append(p.Options, onBlocks)
	}
	p.Tag = v == model.Power && g.Begun.Settings[model.PlugTag] != ""
	if v == model.Vapour {
		p.Question, p.Unit, p.Options = airedQuestion, "min", nil
	}
	if v == model.Heat {
		p.Question, p.Unit = "Warmest of "+g.placesAsked()+", read in °C (or hot)?", "°C"
	}
	return p
}

func stateQuestion(v model.Variable, settings map[string]string) string {
	switch v {
	case model.Power:
		if settings[model.PlugTag] != "" {
			return "Power: on, off, or the tag id on the plug in your hand?"
		}
		return "Power: on, off or unplugged?"
	case model.Filament:
		return "Filament in the toolhead: loaded, unloaded, or parted (a stub is in it)?"
	case model.Cover:
		return "Toolhead cover: on or off?"
	case model.Top:
		return "Top panel: on or off?"
	case model.Changer:
		return "Changer and its tubes: mounted or detached?"
	case model.Door:
		return "Door: closed or open?"
	}
	return string(v) + "?"
}

var flagWords = map[string]string{
	"belts":       "Belts are loose: hold the gantry square at the back end of its travel and snug every clamp screw in a cross pattern.",
	"oil":         "Oil is wet: wipe off every bead until parts look damp, then change gloves.",
	"sensor-plug": "A sensor plug is parted: join it by its mark and tug the latch. No heat until it is proved.",
	"strand":      "A stub of filament is in the toolhead.",
}

func (w *Walk) ledgerPrompt(k PromptKind, item string) Prompt {
	p := Prompt{Kind: k, Item: item}
	l := w.Ledger()
	if flag, ok := strings.CutPrefix(item, "flag:"); ok {
		if isLost(item) {
			return stillLost(p, l.LostPieces())
		}
		say := flagWords[flag]
		if say == "" {
			say = upperFirst(l.FlagText(flag)) + "."
		}
		p.Question = say + " Looked at?"
		p.Options = []string{"ok"}
		if k == AskZero {
			p.Question = say + " Done?"
		}
		return p
	}
	name, inside := strings.CutPrefix(item, insidePrefix)
	where := "out of the machine"
	p.Want = l.Out[item]
	if inside {
		where, p.Want = "inside the machine", l.Inside[name]
	} else {
		name = item
	}
	if k == AskZero {
		p.Question = fmt.Sprintf("%s: %d still %s. Put it right, then count what is left", name,
			p.Want, where)
		return p
	}
	if item == blocksItem && w.stands {
		p.Want = 0
		p.Question = fmt.Sprintf("%s %s: how many do you count", name, where)
		return p
	}
	if p.Against = w.saidAgainst(item); p.Against != "" {
		p.Question = w.againstWords(p.Against, name, p.Want, where)
		return p
	}
	p.Question = fmt.Sprintf("%s, by the book %s: how many do you count", name, where)
	return p
}

func (w *Walk) question(s *model.Step) string {
	switch {
	case !w.atPlug(s):
	case !w.WantsTag(s):
		return "Power"
	case s.Ask == "":
		return "The tag on its plug"
	}
	if s.Ask != "" {
		return strings.TrimSuffix(s.Ask, "?")
	}
	switch s.Gate {
	case model.Confirm:
		return "Done"
	case model.State:
		return upperFirst(string(s.Variable))
	case model.Measure:
		return upperFirst(s.Quantity)
	case model.Note:
		return "Note"
	}
	return "Answer"
}

// Choices are the answers that a step takes by a word, as the power stands; nil where it takes
// something else.
func (w *Walk) Choices(s *model.Step) []string {
	switch s.Gate {
	case model.Confirm:
		return []string{"ok"}
	case model.State:
		if w.WantsTag(s) {
			return nil
		}
		return slices.Clone(model.Values[s.Variable])
	case model.Choice:
		var out []string
		for _, o := range w.offered(s) {
			out = append(out, o.Is)
		}
		return out
	}
	return nil
}

func upperFirst(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

func splitIDs(s string) []string {
	return strings.FieldsFunc(s, func(r rune) bool { return r == ',' || r == ' ' })
}
