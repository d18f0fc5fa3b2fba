package walk

import (
	"slices"

	"bench/oilcan/model"
)

// met tells how a block met its part: the worst of its answers that say so, "" where none does, and
// whether one of them was passed together with others or told afterwards. What a person does not
// answer for itself is easily passed as it always was.
func (at *progress) met(b *Block) (found string, together bool) {
	worst := -1
	for _, s := range b.Proc.Steps {
		k := stepKey(b.key, s.Name)
		i := slices.IndexFunc(s.Options, func(o model.Option) bool {
			return o.Found != "" && o.Is == at.answers[k].Text
		})
		if i < 0 || !at.passed[k] || at.skips[k] != "" {
			continue
		}
		worst = max(worst, slices.Index(model.FoundWords, s.Options[i].Found))
		how := at.how[k].how
		together = together || how != "" && how != model.Alone && how != model.AsLine
	}
	if worst < 0 {
		return "", false
	}
	return model.FoundWords[worst], together
}
