package symptom

import (
	"cmp"
	"slices"
	"strings"
	"unicode"

	"bench/oilcan/model"
)

// How much a word found in a symptom's names and texts says. A whole name said is worth more than
// all its words.
const (
	wholeName = 100
	inName    = 4 // a word of its id, its title or an everyday name
	inSeen    = 1 // a word of how it is known
	begins    = 2 // the words begin its id
)

// Search gives the symptoms a person may mean by some words, the likeliest first; none where no
// word is known. Case, plural, word endings and word order do not matter, and of a last word still
// being typed its beginning is enough. A word that is nowhere is read as the nearest one there is.
// Symptoms in which fewer of the words are found than in others are left out.
func (t *Table) Search(text string) []*Symptom {
	words := stems(text)
	if len(words) == 0 {
		return nil
	}
	all := make([]searched, len(t.Symptoms))
	var known []string
	for i := range t.Symptoms {
		all[i] = searchable(&t.Symptoms[i])
		for w := range all[i].words {
			known = append(known, w)
		}
	}
	slices.Sort(known)
	for i, w := range words {
		if !slices.ContainsFunc(known, func(k string) bool { return strings.HasPrefix(k, w) }) {
			if near := model.Nearest(w, known); near != "" && len(w) > 3 {
				words[i] = near
			}
		}
	}
	hits := best(all, words)
	begun := strings.ToLower(strings.TrimSpace(text))
	for i := range hits {
		if strings.HasPrefix(hits[i].symptom.ID, begun) {
			hits[i].score += begins
		}
	}
	slices.SortStableFunc(hits, func(a, b searched) int { return cmp.Compare(b.score, a.score) })
	out := make([]*Symptom, len(hits))
	for i, s := range hits {
		out[i] = s.symptom
	}
	return out
}

// best keeps the symptoms in which most of the words are found.
func best(all []searched, words []string) []searched {
	var hits []searched
	most := 0
	for _, s := range all {
		s.found, s.score = s.match(words)
		if s.found > 0 {
			hits = append(hits, s)
		}
		most = max(most, s.found)
	}
	return slices.DeleteFunc(hits, func(s searched) bool { return s.found < most })
}

// Called gives the symptoms of which the text is a whole name: an id, or an everyday name.
func (t *Table) Called(text string) []*Symptom {
	var out []*Symptom
	words := stems(text)
	for i := range t.Symptoms {
		s := searchable(&t.Symptoms[i])
		if len(words) > 0 && s.isName(words) {
			out = append(out, s.symptom)
		}
	}
	return out
}

// searched is a symptom as it is looked for.
type searched struct {
	symptom *Symptom
	names   [][]string         // the words of each name, sorted
	words   map[string]float64 // word -> how much it says
	found   int                // how many words of the search are in it
	score   float64
}

func searchable(s *Symptom) searched {
	out := searched{symptom: s, words: map[string]float64{}}
	for _, w := range stems(s.Seen) {
		out.words[w] = inSeen
	}
	for _, name := range append([]string{s.ID, s.Title}, s.Also...) {
		ws := stems(name)
		for _, w := range ws {
			out.words[w] = inName
		}
		out.names = append(out.names, slices.Sorted(slices.Values(ws)))
	}
	return out
}

// isName tells whether the words are one of its names, in whichever order.
func (s searched) isName(words []string) bool {
	sorted := slices.Sorted(slices.Values(words))
	return slices.ContainsFunc(s.names, func(n []string) bool { return slices.Equal(n, sorted) })
}

// match counts the words that are found, and what they say. The beginning of a word is worth half
// of it.
func (s searched) match(words []string) (found int, score float64) {
	for _, w := range words {
		says := s.words[w]
		if says == 0 && len(w) > 1 {
			for known, v := range s.words {
				if strings.HasPrefix(known, w) {
					says = max(says, v/2)
				}
			}
		}
		if says > 0 {
			found++
			score += says
		}
	}
	if s.isName(words) {
		score += wholeName
	}
	return found, score
}

// idle are words that tell no symptom from another.
var idle = strings.Fields("a an the it its is are was be of on in at to and or my me i has have with there this that when while from for does do s")

// negated are the ways to say not, which all mean the same here.
var negated = strings.Fields(
	"no not won wont don dont doesn doesnt isn isnt can cant cannot never without didn didnt t")

// stems gives the words of a text as they are compared: small letters, without idle words and
// endings.
func stems(text string) []string {
	var out []string
	for _, w := range strings.FieldsFunc(strings.ToLower(text), func(r rune) bool {
		return !unicode.IsLetter(r) && !unicode.IsDigit(r)
	}) {
		switch {
		case slices.Contains(idle, w):
			continue
		case slices.Contains(negated, w):
			w = "not"
		default:
			w = stem(w)
		}
		if !slices.Contains(out, w) {
			out = append(out, w)
		}
	}
	return out
}

// stem takes a word's ending off. It need not be a word of the language; names and searches lose
// the same.
func stem(w string) string {
	for _, end := range []string{"ing", "ed", "ies", "es", "s", "ly", "y", "e"} {
		cut, ok := strings.CutSuffix(w, end)
		if !ok || len(cut) < 3 || !strings.ContainsAny(cut, "aeiouy") || end == "s" &&
			strings.HasSuffix(cut, "s") || end == "ed" && strings.HasSuffix(cut, "e") {
			continue
		}
		return single(strings.TrimSuffix(cut, "e"))
	}
	return w
}

// single takes off the second of two like letters at the end, as an ending before it had doubled
// the first; what ends in ll or ss alone has them by itself.
func single(w string) string {
	n := len(w)
	if n > 3 && w[n-1] == w[n-2] && w[n-1] != 'l' && w[n-1] != 's' {
		return w[:n-1]
	}
	return w
}
