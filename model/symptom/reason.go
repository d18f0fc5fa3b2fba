package symptom

import (
	"fmt"
	"strings"
)

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

// reasons are what to say of them, where so many symptoms were heard.
func (g gradings) reasons(heard int) []string {
	var out []string
	for _, x := range g {
		of := " for " + strings.Join(x.symptoms, " and ")
		switch {
		case heard == 1:
			of = ""
		case heard == 2 && len(x.symptoms) == 2:
			of = " for both"
		}
		out = append(out, x.word+of+x.tail)
	}
	return out
}

// nth is what a symptom is called where several were heard: their titles stand above, in this
// order.
func nth(i int) string {
	switch i {
	case 0:
		return "the first"
	case 1:
		return "the second"
	}
	return fmt.Sprintf("number %d", i+1)
}

// called is what a symptom heard is called in a sentence.
func (c Case) called(i int) string {
	if len(c.Heard) == 1 {
		return "this"
	}
	return nth(i)
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
