package walk

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"bench/oilcan/model"
)

// Context is what an answer is judged against: the hour, the machine as the bench knows it, and the
// library for procedures that join.
type Context struct {
	Now     time.Time
	Machine *model.Machine
	Get     func(id string) *model.Procedure

	By        string         // who works; "" where the bench knows no names
	Pace      string         // one of Paces; "" is Steps
	Practice  model.Practice // what they have walked on this bench
	Unhurried bool           // no terminal stands before a person: answers come from a pipe

	// of work told from paper: the step whose row is told next, "" for the first that wants it
	Row string
}

// Reply is what an answer comes to. Facts are to be written in one action, with Texts; where Facts
// is empty nothing is written. Refusal says why the walk stays where it is; Note what went on
// beside.
type Reply struct {
	Facts   []model.Fact
	Texts   map[string][]byte
	Refusal string
	Note    string
	Paused  bool
}

// refuse gives a reply that writes nothing.
func refuse(format string, a ...any) Reply { return Reply{Refusal: fmt.Sprintf(format, a...)} }

// Answer judges what a person says to the current prompt.
func (w *Walk) Answer(c Context, text string) (Reply, error) {
	text = strings.TrimSpace(text)
	p := w.Prompt(c.Now)
	if p.Kind == AskOver {
		return refuse("This session has ended."), nil
	}
	if !model.Showable(text) {
		return refuse(unshown), nil
	}
	verb, rest, _ := strings.Cut(text, " ")
	rest = strings.TrimSpace(rest)
	verb = command(p, strings.ToLower(verb), rest)
	if p.Kind == AskResume && verb != "pause" {
		verb = "" // nothing else is taken before the state is asked anew
	}
	if w.telling && p.Kind == AskStep && !slices.Contains(tellVerbs, verb) {
		return w.tell(c, text)
	}
	switch verb {
	case "pause":
		return w.complete(c,
			Reply{Facts: []model.Fact{w.walked(model.Walked{What: Paused, Why: rest})},
				Paused: true})
	case "back":
		return w.back(c)
	case "skip":
		return w.skip(c, p, rest)
	case "leave":
		return w.leaveOut(c, p, rest)
	case "cut":
		return w.cut(c, p, rest)
	case fault:
		return w.atFault(c, rest)
	case "note":
		return w.remark(c, rest)
	case "plan":
		return w.planAgain(c, p)
	case "set":
		return w.correct(c, p, rest)
	}
	if n, answer, ok := numbered(text); ok && p.Kind == AskWait {
		return w.AnswerOffer(c, n, answer)
	}
	r := w.judge(c, p, text)
	return w.complete(c, r)
}

// unshown refuses an answer that would stand in the book and could not be read there.
const unshown = "This holds characters that cannot be shown: use letters, digits and spaces."

// command is the verb of an answer where it is a word of command here. Where a note is asked, a
// sentence that only begins like one is a note.
func command(p Prompt, verb, rest string) string {
	if verb == "set" && (p.Step == nil || p.Step.Gate != model.Count) {
		return "" // some choices begin with that word
	}
	if verb == fault && !p.Watched() {
		return ""
	}
	if p.Kind == AskLack && verb == "leave" {
		return "" // leave out is an answer there
	}
	if p.Step != nil && p.Step.Gate == model.Note &&
		(verb == "note" || verb == "cut" || (verb == "back" || verb == "plan") && rest != "") {
		return ""
	}
	return verb
}

// Commands tells whether a line said at a prompt is taken as a word of command there.
func (p Prompt) Commands(text string) bool {
	verb, rest, _ := strings.Cut(strings.TrimSpace(text), " ")
	return isVerb(command(p, strings.ToLower(verb), strings.TrimSpace(rest)))
}

func (w *Walk) judge(c Context, p Prompt, text string) Reply {
	switch p.Kind {
	case AskResume:
		if !model.IsYes(text) {
			return refuse("Answer ok to go on: the state is asked first, and the ledger counted.")
		}
		return Reply{Facts: []model.Fact{w.walked(model.Walked{What: Resumed})}}
	case AskState:
		if p.Variable == model.Vapour {
			return w.judgeAired(text, c.Now)
		}
		return w.judgeState(c, p, text)
	case AskLedger, AskZero:
		return w.judgeLedger(p, text)
	case AskFind:
		return w.judgeFind(p, text)
	case AskEnd:
		return w.judgeEnd(text)
	case AskLack:
		return w.judgeLack(c, text)
	case AskWait:
		if why := w.Uncuttable(p); why != "" {
			return refuse("%s left: %s. Other work may go on; %s.", model.TimeLeft(p.Left),
				p.Wait.Why, why)
		}
		return refuse("%s left: %s. Other work may go on; cut WHY ends the wait early, with the reason on record.", model.TimeLeft(p.Left), p.Wait.Why)
	case AskStep:
		return w.judgeStep(c, p.Step, text)
	}
	return refuse("Nothing is asked now.")
}

// walked fills in where a session fact stands.
func (at *progress) walked(x model.Walked) model.Fact {
	x.Block = at.Cur
	if b := at.Block(); b != nil {
		x.ID = b.ID
		if s := at.Step(); s != nil && x.Step == "" {
			x.Step = s.Name
		}
	}
	return model.Fact{Kind: model.KindWalk, Walk: &x}
}

// refusedFact records a gate not passed; the sentence is shown in place.
func (at *progress) refusedFact(answer, why string) Reply {
	return Reply{Facts: []model.Fact{at.walked(model.Walked{What: Refused, Answer: answer,
		Why: why})}, Refusal: why}
}

func (w *Walk) judgeState(c Context, p Prompt, text string) Reply {
	v, word := p.Variable, strings.ToLower(text)
	x := model.Walked{What: Said, Variable: v, Answer: word}
	if v == model.Heat {
		if t, err := model.ReadNumber(text); err == nil && model.SameUnit(t.Unit, "°C") {
			n, err := t.One(nil)
			if err != nil {
				return refuse("%s.", upperFirst(err.Error()))
			}
			if !model.WarmestOf(w.Features()).Possible.Holds(n) {
				return refuse("%s °C cannot be: read it again, or answer hot if it cannot be read.",
					model.Figure(n))
			}
			x.Number, x.Unit, x.Answer = &n, "°C", "cold"
			if n > coldUpTo {
				x.Answer = "hot"
			}
			return Reply{Facts: []model.Fact{w.walked(x)}}
		}
		if word != string(model.Hot) {
			return refuse("Heat is told by a value read: type the warmest of %s, such as 31 °C, or hot if you cannot read it.", w.placesAsked())
		}
	}
	if out, since := w.saidOut(text); v == model.Power && out {
		return w.judgeOut(c, x, since)
	}
	if v == model.Bed && word == onBlocks {
		x.Answer, x.Item = "low", blocksItem
	} else if tag := w.Begun.Settings[model.PlugTag]; v == model.Power && tag != "" &&
		word != string(model.On) &&
		word != string(model.Off) {
		return refuse("This machine's plug has a tag: read it on the plug in your hand and type its id, or answer on or off.")
	} else if !slices.Contains(model.Values[v], word) {
		return refuse("Answer %s.", model.Listed(p.Options, "or"))
	}
	if v == model.Power && word == string(model.On) && w.powerLocked() {
		stop := w.stopTag(c)
		if w.Believed[model.Vapour] == model.Drying {
			return w.refusedFact(text,
				stop+
					"It must not stay on, and a switch sparks in vapour: cut it at a plug, strip or breaker two arm's lengths away and not below it, then answer off or unplugged.")
		}
		return w.refusedFact(text,
			stop+
				"It must not stay on: switch it off, or cut the circuit, then answer off or unplugged. If that is not safe, leave it and pause.")
	}
	return Reply{Facts: []model.Fact{w.walked(x)}}
}

// unproved are the checks that are due where care left something loose and it was put right outside
// of its own steps: belts that were snugged have no tone, and no run has shown that they hold.
var unproved = map[string][]model.Fact{
	"flag:belts": {falls("belts-reset"), falls("belt-tone"), falls("self-check")},
}

func falls(id string) model.Fact {
	return model.Fact{Kind: model.KindDue, Due: &model.FallsDue{Procedure: id,
		Because: "belts snugged after work broken off, without their tone"}}
}

func (w *Walk) judgeLedger(p Prompt, text string) Reply {
	if isLost(p.Item) && strings.EqualFold(text, p.Options[1]) {
		return Reply{Facts: []model.Fact{w.walked(model.Walked{What: Found, Item: p.Item})}}
	}
	if _, ok := strings.CutPrefix(p.Item, "flag:"); ok {
		if !model.IsYes(text) {
			if p.Kind == AskZero {
				return refuse("Answer ok once it is done.")
			}
			return refuse("Answer ok once you have looked; what was left so stays so until its own step or count clears it.")
		}
		x := model.Walked{What: Counted, Item: p.Item, Answer: "ok"}
		facts := []model.Fact{w.walked(x)}
		if p.Kind == AskZero {
			x.Answer = "clear"
			facts = append([]model.Fact{w.walked(x)}, unproved[p.Item]...)
		}
		return Reply{Facts: facts}
	}
	t, err := model.ReadNumber(text)
	n := t.Count().Value
	if err != nil || !model.Whole(n) {
		return refuse("Type how many you count, a whole number.")
	}
	return w.judgeCounted(p, text, n, strings.ToLower(t.Unit))
}

// judgeCounted judges how many of an item were counted, and the word beside the number: back, lost
// or more.
func (w *Walk) judgeCounted(p Prompt, text string, n float64, how string) Reply {
	x := model.Walked{What: Counted, Item: p.Item, Number: &n}
	must := w.impliedBy()[p.Item]
	// that there are some, not yet how many
	said := p.Kind == AskLedger && p.Item == blocksItem && w.stands
	want, sp := float64(p.Want), w.spanOf(p.Item)
	switch {
	case said && n < float64(w.standsOn()):
		return w.refusedFact(text,
			fmt.Sprintf("It stands on %d or more: on fewer it hangs, and nobody reaches under it. Look again, or go back to how you said it stands.", w.standsOn()))
	case p.Against != "" && n > 0:
		return w.refusedFact(text, w.bothCannotBe(p.Against, int(n)))
	case said:
	case p.Kind == AskLedger && int(n) < must:
		return w.refusedFact(text,
			fmt.Sprintf("As you said the machine stands, %d must be there. Count again, or go back to how you said it stands.", must))
	case must == 1 && n > 1 && !strings.HasPrefix(p.Item, insidePrefix): // a cover that is off
		return w.refusedFact(text, "A machine has one of it: count again.")
	case p.Kind == AskZero && n == 0:
	case p.Kind == AskZero:
		return w.refusedFact(text,
			fmt.Sprintf("%s still to put right. Put it back or take it out, then count what is left: it must be 0.", plural(int(n))))
	case how == "back" && n < want, how == "lost" && n < want, how == "more" && n > want:
		x.Answer = how
	case n == want, int(n) >= sp.least && int(n) <= sp.most:
		// of a page broken off nobody knows what was done
	case n < want:
		return w.refusedFact(text,
			fmt.Sprintf("You count %s, %s. Look again; then type \"%s back\" where the rest is in its place again, or \"%s lost\".", model.Figure(n), w.bookSays(p.Item, p.Want), model.Digits(n), model.Digits(n)))
	default:
		return w.refusedFact(text,
			fmt.Sprintf("You count %s, %s. Count again; if it is right, type \"%s more\".",
				model.Figure(n), w.bookSays(p.Item, p.Want), model.Digits(n)))
	}
	return Reply{Facts: []model.Fact{w.walked(x)}}
}

func plural(n int) string {
	if n == 1 {
		return "1 is"
	}
	return fmt.Sprintf("%d are", n)
}

// stopFacts ends care with a stop finding and a tag.
func (at *progress) stopFacts(why, answer string) Reply {
	id := ""
	if b, s := at.Block(), at.Step(); s != nil {
		id = subject(b, s)
	}
	return Reply{Facts: []model.Fact{
		at.walked(model.Walked{What: Missed, Then: model.ThenStop, Answer: answer, Why: why}),
		{Kind: model.KindFinding, Finding: &model.Found{Kind: model.FoundStop, Text: why,
			Procedure: id}},
		{Kind: model.KindTag, Tag: &model.TagMove{Kind: model.TagStopped, Why: why}},
	}, Note: "Stop. " + model.StopNow}
}

func (w *Walk) judgeEnd(text string) Reply {
	text = strings.ToLower(text)
	if text == "sound" {
		text = string(model.EndEarly)
	}
	word := model.End(text)
	if word == "don't know" {
		word = model.EndUnknown
	}
	if word != model.EndUnknown && !slices.Contains(model.Ends, word) {
		return refuse("Answer %s: early means taken off while still sound.",
			model.Listed(model.Words(model.Ends), "or"))
	}
	return Reply{Facts: []model.Fact{
		w.walked(model.Walked{What: Ended, Answer: string(word), Item: w.unended.part,
			ID: w.unended.block}),
		{Kind: model.KindSwap, Swap: &model.Swapped{Part: w.unended.part, End: word,
			Resets: w.resets(w.unended.part)}},
	}}
}

// resets are the procedures of this session that look at or renew a part.
func (g *given) resets(part string) []string {
	var out []string
	for _, p := range g.texts {
		if p.Part != part || p.Kind == model.SetUp {
			continue
		}
		out = append(out, p.ID)
		out = append(out, p.CountsAs...)
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// skip passes over one step, with its reason.
func (w *Walk) skip(c Context, p Prompt, why string) (Reply, error) {
	if p.Kind != AskStep {
		return refuse("Only a step of care can be skipped; answer this one."), nil
	}
	if !strings.ContainsFunc(why, letterOrDigit) {
		return refuse("Say why: skip, then the reason."), nil
	}
	if r := unskippable(w.Block(), p.Step); r != "" {
		return refuse("%s", r), nil
	}
	return w.complete(c,
		Reply{Facts: []model.Fact{w.walked(model.Walked{What: Skipped, Why: why})}})
}

func unskippable(b *Block, s *model.Step) string {
	switch {
	case b.Kind == model.BlockSetUp:
		return "This step opens, closes or makes safe: it cannot be skipped. Do it, or pause."
	case s.Gate == model.State, s.Own, b.Kind == model.BlockOwed && !strings.Contains(s.Name, "."):
		return "This step keeps power and heat safe: it cannot be skipped."
	case s.Alone && s.Gate != model.Note && b.Kind == model.BlockCare:
		return "This stands alone because it keeps hands, heat or the machine safe: answer it, or leave the procedure out."
	case len(s.Starts) > 0:
		return "A clock runs from this step: it cannot be skipped."
	case len(s.Out)+len(s.Back)+len(s.In)+len(s.Taken)+len(s.Set) > 0:
		return "This step keeps count of what is out or in: it cannot be skipped."
	case s.Gate == model.Count && s.Equal != nil:
		return "A count cannot be skipped: count, and type the number."
	case s.Gate == model.Count && countedAgain(b.Proc, s.Name):
		return "What is counted here is compared later: count, and type the number."
	}
	return ""
}

// countedAgain tells whether a later step goes by what was counted at this one.
func countedAgain(p *model.Procedure, step string) bool {
	return slices.ContainsFunc(p.Steps, func(s model.Step) bool {
		return s.Equal != nil && s.Equal.Count == step
	})
}

// CanSkip tells whether the current step may be skipped with a reason.
func (at *progress) CanSkip() bool {
	b, s := at.Block(), at.Step()
	return s != nil && unskippable(b, s) == ""
}

// CanLeave tells whether the current procedure may be left out with a reason.
func (w *Walk) CanLeave() bool {
	b := w.Block()
	return b != nil && w.unleavable(b) == ""
}

// unleavable says why a procedure cannot be left out now, "" where it can.
func (w *Walk) unleavable(b *Block) string {
	switch {
	case b.ID == owedHot:
		return ""
	case b.Kind != model.BlockCare || (b.Proc.Kind == model.Bookend && b.ID != model.AsFound):
		return "This opens, closes or signs the session: it cannot be left out."
	case w.debt(b):
		return "Something of this procedure is still out, in or loose: go on to the step that puts it back."
	case w.telling:
		return ""
	case w.foundLoose(b):
		return "What was found loose here steers or feeds a heater: see it measured first, or pause."
	case w.midOwned(b):
		return "The machine is under power for this procedure: go on to the step that unplugs it."
	}
	return ""
}

// leftDays is when what was left out is looked at again (common practice: within the week, not the
// next morning).
const leftDays = 3

// leaveOut leaves the current procedure out, with its reason.
func (w *Walk) leaveOut(c Context, p Prompt, why string) (Reply, error) {
	b := w.Block()
	if b == nil || (p.Kind != AskStep && p.Kind != AskWait) {
		return refuse("No procedure stands here to leave out."), nil
	}
	if r := w.unleavable(b); r != "" {
		return refuse("%s", r), nil
	}
	if why == "" {
		return refuse("Say why: leave, then the reason."), nil
	}
	left := w.walked(model.Walked{What: LeftOut, Why: why})
	if b.Kind == model.BlockOwed { // each proof stays owed, and is a finding at the end
		return w.complete(c, Reply{Facts: []model.Fact{left}})
	}
	again := c.Now.AddDate(0, 0, leftDays)
	return w.complete(c, Reply{Facts: []model.Fact{
		left,
		{Kind: model.KindFinding, Finding: &model.Found{Kind: model.FoundLater, Text: b.Proc.Title +
			": left out, " + why, Procedure: b.ID, Again: again}},
	}})
}

// foundLoose tells whether an answer led to steps, still to be done, by which a sensor is not to be
// trusted.
func (at *progress) foundLoose(b *Block) bool {
	return slices.ContainsFunc(b.Proc.Steps, func(s model.Step) bool {
		return s.Only.Step != "" && s.Set[string(model.Sensor)] == model.Unproved &&
			at.applies(b, s.Only) && !at.passed[stepKey(b.key, s.Name)]
	})
}

func (bel *belief) midOwned(b *Block) bool {
	return len(b.Proc.Owns) > 0 && b.Proc.Require[model.Power] == model.Unplugged &&
		bel.Believed[model.Power] != model.Unplugged
}

func (w *Walk) remark(c Context, text string) (Reply, error) {
	if text == "" {
		return refuse("Type the note after the word note."), nil
	}
	return w.complete(c,
		Reply{Facts: []model.Fact{w.walked(model.Walked{What: Noted, Answer: text})}})
}
