package walk

import (
	"strings"

	"bench/oilcan/model"
)

// cut ends a wait early, with its reason; never one that keeps people safe.
func (w *Walk) cut(c Context, p Prompt, why string) (Reply, error) {
	if p.Kind != AskWait {
		return refuse("No wait stands here."), nil
	}
	if why := w.Uncuttable(p); why != "" {
		return refuse("%s: %s left.", upperFirst(why), model.TimeLeft(p.Left)), nil
	}
	if why == "" {
		return refuse("Say why: cut, then the reason."), nil
	}
	return w.complete(c,
		Reply{Facts: []model.Fact{w.walked(model.Walked{What: Cut, Item: p.Wait.Key, Why: why})}})
}

// fault is the word for what goes wrong while somebody stands by and watches.
const fault = "fault"

// Watched tells whether a wait stands here in which somebody stays and watches: a fault may be seen,
// heard or smelled, and is told at once.
func (p Prompt) Watched() bool {
	return (p.Kind == AskWait || p.Kind == AskNone) && p.Step != nil &&
		p.Step.Gate == model.Wait && p.Step.Attended
}

// atFault stops the machine in the middle of a wait.
func (w *Walk) atFault(c Context, what string) (Reply, error) {
	if !strings.ContainsFunc(what, letterOrDigit) {
		return refuse("Off at the switch first; then say what you see, hear or smell."), nil
	}
	return w.complete(c, w.stopFacts(sentence(strings.TrimRight(what, ".")), fault))
}
