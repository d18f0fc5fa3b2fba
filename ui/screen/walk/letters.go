package walk

import (
	"strings"
	"unicode"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
)

// answer is one answer of what stands alone: the letter that gives it, the word as it is shown, and
// what is said to the walk.
type answer struct {
	letter rune
	word   string
	says   string
}

// answersOf gives the answers of a step that stands alone, each with a letter of its own; none
// where it is typed.
func answersOf(p walk.Prompt) []answer {
	s := p.Step
	switch {
	case s == nil:
		return nil
	case s.Gate == model.Confirm && s.Miss != nil:
		return []answer{{'y', "yes", "ok"}, {'n', "no", "fail"}}
	case s.Gate == model.Confirm:
		return []answer{{'y', "yes", "ok"}}
	case modeOfStep(p) == pickOption:
		return lettered(p.Options)
	}
	return nil
}

// lettered gives each word the first of its letters that no word before it has: on and off are o
// and f, for n would read as no. b takes back and is no answer. Choices that stand alone have
// initials of their own; the checker sees to that.
func lettered(words []string) []answer {
	var out []answer
	taken := map[rune]bool{'b': true}
	for _, w := range words {
		for _, r := range strings.ToLower(w) {
			if !unicode.IsLetter(r) || taken[r] {
				continue
			}
			taken[r] = true
			out = append(out, answer{r, w, w})
			break
		}
	}
	return out
}

// marked writes an answer with its letter before it.
func (a answer) marked() string { return string(a.letter) + " " + a.word }
