package action

import "bench/oilcan/model"

// Settling gives the facts that close a finding, and clear the tag it stood for where no other finding
// of its kind is left on the machine.
func Settling(m *model.Machine, f model.Finding, why string) []model.Fact {
	facts := []model.Fact{Settled(f.ID, why)}
	tag := map[string]string{"stop": "stopped", "part": "waiting", "limits": "limits", "out-of-use": "out-of-use"}[f.Kind]
	if tag == "" || m.Tag == nil || m.Tag.Kind != tag {
		return facts
	}
	for _, other := range m.Findings {
		if other.ID != f.ID && other.Kind == f.Kind {
			return facts
		}
	}
	return append(facts, model.Fact{Kind: model.KindTag, Tag: &model.TagMove{Kind: tag, Clear: true, Why: why}})
}
