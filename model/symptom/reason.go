package symptom

import "strings"

// gradings are the grades of one care for the symptoms heard, those that read alike taken together.
type gradings []grading

type grading struct {
	word, tail string
	symptoms   []string
}

// add takes in one symptom's grade; tail is what is said after it.
func (g *gradings) add(word, symptom, tail string) {
	for i := range *g {
		if x := &(*g)[i]; x.word == word && x.tail == tail {
			x.symptoms = append(x.symptoms, symptom)
			return
		}
	}
	*g = append(*g, grading{word, tail, []string{symptom}})
}

// reasons are what to say of them.
func (g gradings) reasons() []string {
	var out []string
	for _, x := range g {
		out = append(out, x.word+" for "+strings.Join(x.symptoms, " and ")+x.tail)
	}
	return out
}

// answered says where the answers to these symptoms point; nothing where there are none.
func (c Case) answered(symptoms []string, where string) []string {
	switch {
	case len(symptoms) == 0:
		return nil
	case len(symptoms) > 1:
		return []string{"both your answers point " + where}
	case len(c.Heard) == 1:
		return []string{"your answer points " + where}
	}
	return []string{"your answer on " + symptoms[0] + " points " + where}
}
