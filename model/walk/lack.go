package walk

import (
	"fmt"
	"slices"
	"strings"

	"bench/oilcan/model"
	"bench/oilcan/model/plan"
)

// What is done without a thing that is not there.
const (
	leaveOut = "leave out" // what needs it is left for another day
	goOn     = "go on"     // with something as good
	isHere   = "here"      // it was found after all
)

// lack is something of the list that is not there, while it is decided what to do without it.
type lack struct {
	item string   // "" until it is named
	ids  []string // what cannot be done without it
}

// lackPrompt asks what is missing, then what to do without it.
func (w *Walk) lackPrompt() Prompt {
	if w.lack.item == "" {
		return Prompt{Kind: AskLack,
			Question: "Which one is missing? Its number in the list, or its name"}
	}
	what := fmt.Sprintf("Without %s this cannot be done: %s. Leave it out", article(w.lack.item),
		w.titles(w.lack.ids))
	if w.lack.item == model.SecondPerson {
		return Prompt{Kind: AskLack, Item: w.lack.item, Options: []string{leaveOut, isHere},
			Question: what + ", or is somebody here after all"}
	}
	return Prompt{Kind: AskLack, Item: w.lack.item, Options: []string{leaveOut, goOn, isHere},
		Question: what + ", or go on with something as good"}
}

// article puts an article before what is a person, not a thing of the list.
func article(item string) string {
	if item == model.SecondPerson {
		return "a " + item
	}
	return item
}

// titles names blocks ahead by their titles.
func (at *progress) titles(ids []string) string {
	var out []string
	for _, id := range ids {
		out = append(out, at.titleOf(id))
	}
	return strings.Join(out, "; ")
}

func (at *progress) titleOf(id string) string {
	if i := slices.IndexFunc(at.Blocks, func(b *Block) bool { return b.ID == id }); i >= 0 {
		return at.Blocks[i].Proc.Title
	}
	return id
}

// judgeLack judges what is said of a thing that is not there.
func (w *Walk) judgeLack(c Context, text string) Reply {
	if w.lack.item == "" {
		return w.judgeMissing(c, text)
	}
	var offered []model.Option
	for _, is := range w.lackPrompt().Options {
		offered = append(offered, model.Option{Is: is})
	}
	o := option(offered, text)
	if o == nil {
		return refuse("Answer %s.", model.Listed(w.lackPrompt().Options, "or"))
	}
	x := model.Walked{What: Lacked, Item: w.lack.item, Answer: o.Is}
	if o.Is != leaveOut {
		return Reply{Facts: []model.Fact{w.walked(x)}}
	}
	x.Rows = w.lack.ids
	return w.leftForLack(c, x, "no "+w.lack.item)
}

// leftForLack leaves procedures out of the session before they were begun, each with a finding.
func (at *progress) leftForLack(c Context, x model.Walked, why string) Reply {
	x.Why = why
	facts := []model.Fact{at.walked(x)}
	for _, id := range x.Rows {
		facts = append(facts,
			model.Fact{Kind: model.KindFinding, Finding: &model.Found{Kind: model.FoundLater,
				Procedure: id,
				Text: at.titleOf(id) + ": left out, " +
					why, Again: c.Now.AddDate(0, 0, leftDays)}})
	}
	return Reply{Facts: facts}
}

// judgeMissing judges which thing is named as missing.
func (w *Walk) judgeMissing(c Context, text string) Reply {
	list := w.Laying()
	i := slices.IndexFunc(list, func(x LayItem) bool { return strings.EqualFold(x.Name, text) })
	if n, err := model.ReadNumber(text); i < 0 && err == nil && n.Unit == "" &&
		model.Whole(n.Count().Value) {
		i = int(n.Count().Value) - 1
	}
	if i < 0 || i >= len(list) {
		return refuse("Type its number, 1 to %d, or its name as it stands in the list; back takes it back.", len(list))
	}
	item := list[i].Name
	ids := w.without(c, item)
	if len(ids) == 0 {
		return Reply{Facts: []model.Fact{w.walked(
			model.Walked{What: Lacked, Item: item, Answer: goOn})},
			Note: "Nothing has to be left out without " + item + ": it is noted."}
	}
	return Reply{Facts: []model.Fact{w.walked(model.Walked{What: Lacking, Item: item, Rows: ids})}}
}

// without gives what of the care ahead cannot be done without a thing.
func (w *Walk) without(c Context, item string) []string {
	procs, _, err := w.remaining(c)
	if err != nil {
		return nil
	}
	return plan.Lacking(w.request(c, procs), item)
}

func (w *Walk) foldLacking(x *model.Walked) { w.lack = &lack{item: x.Item, ids: x.Rows} }

func (w *Walk) foldLacked(x *model.Walked) {
	w.lack = nil
	switch x.Answer {
	case leaveOut:
		w.leftIDs = append(slices.Clip(w.leftIDs), x.Rows...)
		w.needs = true
	case goOn:
		w.goneOn = append(slices.Clip(w.goneOn), x.Item)
	}
}
