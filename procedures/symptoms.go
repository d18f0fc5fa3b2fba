package procedures

import (
	_ "embed"
	"fmt"
	"sync"

	"bench/oilcan/model/symptom"
)

//go:embed symptoms.toml
var symptomFile []byte

// symptomTable is the built-in table, read at the first question for it. A file with a mistake
// gives what could be read; the tests see to it that there is none.
var symptomTable = sync.OnceValue(func() *symptom.Table {
	t, _, _ := parseSymptoms("symptoms.toml", symptomFile, false)
	return t
})

// Symptoms is the table of symptoms: what to ask, what no care cures, what stops. Which care cures
// them stands in the procedures. It must not be changed.
func Symptoms() *symptom.Table { return symptomTable() }

// parseSymptoms reads a table of symptoms, with its tree for the lines of CheckSymptoms' problems.
func parseSymptoms(name string, data []byte, full bool) (*symptom.Table, *node, []Problem) {
	out, root, problems, got := readFile(name, data, full, (*reader).symptoms)
	if !got {
		out = &symptom.Table{}
	}
	return out, root, problems
}

func (r *reader) symptoms(t *table) *symptom.Table {
	out := &symptom.Table{}
	t.each("symptom", func(q *table) { out.Symptoms = append(out.Symptoms, q.symptom()) })
	t.each("pair", func(q *table) {
		p := symptom.Pair{Say: q.need("say", `"what both together say"`),
			Factor: q.factors("factor"), Answers: q.textMap("answers")}
		both := q.texts("both")
		if len(both) != 2 {
			r.bad(q.n, "a pair has two symptoms: write both = [\"ringing\", \"layer-shift\"]")
		} else {
			p.Both = [2]string{both[0], both[1]}
		}
		out.Pairs = append(out.Pairs, p)
	})
	t.done()
	return out
}

func (t *table) symptom() symptom.Symptom {
	s := symptom.Symptom{
		ID: t.need("id", `"ringing"`), Title: t.need("title", `"Echoes beside edges"`),
		Seen: t.need("seen", `"how it is known"`),
		Also: t.texts("also"), Ask: t.text("ask"), NotCare: t.others("not_care"),
		Stop: t.truth("stop"), Page: t.texts("page"), Normal: t.text("normal"),
		Needs: t.features("needs"), NeedsAny: t.features("needs_any"),
	}
	s.Outside = t.mayBe("outside", "weight", weights)
	t.each("answer", func(q *table) {
		s.Answers = append(s.Answers, symptom.Answer{Is: q.need("is", `"one axis"`),
			Say:   q.text("say"),
			Means: q.text("means"), First: q.text("first"), Factor: q.factors("factor"),
			Needs: q.features("needs"), NeedsAny: q.features("needs_any")})
	})
	t.each("hand", func(q *table) {
		s.Hand = append(s.Hand, symptom.Hand{ID: q.need("id", `"put-back"`),
			Do: q.need("do", `"Seat the top anew."`), Weight: q.oneOf("weight", "weight", weights),
			Needs: q.features("needs"), NeedsAny: q.features("needs_any"),
			HandsOn: q.number("handson")})
	})
	return s
}

// others reads a list of causes: a sentence each, or { say, needs, needs_any } where only some
// machines have it.
func (t *table) others(key string) []symptom.Other {
	var out []symptom.Other
	for _, it := range t.items(key, fmt.Sprintf("a list, e.g. %s = [\"…\"]", key)) {
		o := symptom.Other{}
		if it.kind != isTable {
			o.Say = t.textOf(key, it)
		} else if q := t.r.table(it, key, t); q != nil {
			o = symptom.Other{Say: q.need("say", `"A draught."`), Needs: q.features("needs"),
				NeedsAny: q.features("needs_any")}
			q.done()
		}
		if o.Say != "" {
			out = append(out, o)
		}
	}
	return out
}

// factors reads a table of numbers.
func (t *table) factors(key string) map[string]float64 {
	var out map[string]float64
	t.inner(key, func(q *table) {
		out = map[string]float64{}
		for _, p := range q.n.keys {
			if v := q.pointer(p.key); v != nil {
				out[p.key] = *v
			}
		}
	})
	return out
}

// textMap reads a table of texts.
func (t *table) textMap(key string) map[string]string {
	var out map[string]string
	t.inner(key, func(q *table) {
		out = map[string]string{}
		for _, p := range q.n.keys {
			if v := q.text(p.key); v != "" {
				out[p.key] = v
			}
		}
	})
	return out
}

// knownSymptom is the sentence about a symptom that is not in the table, "" where it is.
func knownSymptom(name string) string {
	if t := Symptoms(); t.Get(name) == nil {
		return notOnList("symptom", name, t.IDs())
	}
	return ""
}
