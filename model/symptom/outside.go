package symptom

import "slices"

// Outside is the name under which an answer's factor makes what no care mends likelier or less.
const Outside = "outside"

// outside weighs what no care mends as one cause: by its weight in the table and the answers, for
// it has no gauge, no journal and no outcomes. Its line has no care to begin with.
func (c Case) outside() Line {
	l := Line{Cause: Outside}
	grades := map[string]string{}
	for _, h := range c.Heard {
		if len(h.Symptom.NotCare) > 0 {
			grades[h.Symptom.ID] = h.Symptom.outsideWeight()
		}
	}
	if !c.weigh(&l, grades, nil) {
		l.Score = 0
		return l
	}
	c.evidence(&l)
	return l
}

// outsideWeight is the grade of what no care mends.
func (s *Symptom) outsideWeight() string {
	if s.Outside == "" {
		return "medium"
	}
	return s.Outside
}

// notCare gives the causes no care cures that can be there on the machine, each once.
func (c Case) notCare() []string {
	var out []string
	for _, h := range c.Heard {
		for _, x := range h.Symptom.NotCare {
			if mayHave(c.Machine, x.Needs, x.NeedsAny) && !slices.Contains(out, x.Say) {
				out = append(out, x.Say)
			}
		}
	}
	return out
}
