package symptom

import (
	"bench/oilcan/model"
)

// Pending is a complaint whose outcome is still to be said: its session has ended and its care, or
// the look of it, was done since it began. False where there is none; a session that did none of it
// leaves nothing to judge.
func Pending(m *model.Machine) (model.Complained, bool) {
	c := m.Complaint
	if c == nil || m.Session == c.Session {
		return model.Complained{}, false
	}
	since := func(id string) bool {
		last := m.Care[id]
		return last != nil && last.Known && !last.At.Before(c.At)
	}
	return *c, since(c.Procedure) || since(c.Start)
}

// Weight is what care weighs for a symptom: by its grade, and moved by this bench's outcomes. Both
// are 0 where the care does not name the symptom.
func Weight(s *Symptom, cause string, procs []*model.Procedure, counts map[string]Counted) (was,
	now float64) {
	grade := ""
	for _, p := range procs {
		for _, c := range p.Symptoms {
			if p.ID == cause && c.Name == s.ID {
				grade = c.Weight
			}
		}
	}
	for _, h := range s.Hand {
		if h.ID == cause {
			grade = h.Weight
		}
	}
	was = Weights[grade]
	if was == 0 {
		return 0, 0
	}
	return was, Moved(was, counts[model.TallyKey(s.ID, cause)])
}

// Said gives the facts of an outcome, one for each symptom.
func Said(c model.Complained, is model.CureWord) []model.Fact {
	var out []model.Fact
	for _, s := range c.Symptoms {
		out = append(out, model.Fact{Kind: model.KindOutcome,
			Outcome: &model.Outcome{Symptom: s, Procedure: c.Procedure, Is: is,
				Session: c.Session}})
	}
	return out
}
