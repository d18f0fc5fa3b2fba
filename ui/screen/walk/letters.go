package walk

import (
	"slices"
	"strings"
	"unicode"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
	"bench/oilcan/ui/screen"
)

// answer is one answer of what stands alone: the letter that gives it, the word as it is shown, and what is said to the walk.
type answer struct {
	letter rune
	word   string
	says   string
}

// answersOf gives the answers of a step that stands alone, each with a letter of its own; none where it is typed.
func answersOf(p walk.Prompt, settings map[string]string) []answer {
	s := p.Step
	switch {
	case s == nil:
		return nil
	case s.Gate == model.Confirm && s.Miss != nil:
		return []answer{{'y', "yes", "ok"}, {'n', "no", "fail"}}
	case s.Gate == model.Confirm:
		return []answer{{'y', "yes", "ok"}}
	case modeOfStep(s, settings) == pickOption:
		return lettered(p.Options)
	}
	return nil
}

// lettered finds for each word the first of its letters by which it cannot be taken for another: its initial, where no
// other word begins with it. b takes back and is no answer.
func lettered(words []string) []answer {
	var out []answer
	taken := map[rune]bool{'b': true}
	for i, w := range words {
		for _, r := range strings.ToLower(w) {
			if !unicode.IsLetter(r) || taken[r] || begins(words, i, r) {
				continue
			}
			taken[r] = true
			out = append(out, answer{r, w, w})
			break
		}
	}
	return out
}

// begins tells whether another word than the i-th begins with a letter.
func begins(words []string, i int, r rune) bool {
	for j, w := range words {
		if j != i && strings.HasPrefix(strings.ToLower(w), string(r)) {
			return true
		}
	}
	return false
}

// marked writes an answer with its letter before it.
func (a answer) marked() string { return string(a.letter) + " " + a.word }

// noAnswer says that a letter or figure answers nothing here, and what does.
func noAnswer(p screen.Press, as []answer) tea.Cmd {
	if p.Msg.Type != tea.KeyRunes || p.Msg.Alt || slices.ContainsFunc(as, func(a answer) bool { return p.Key() == string(a.letter) }) {
		return nil
	}
	var words []string
	for _, a := range as {
		words = append(words, a.marked())
	}
	return screen.Send(screen.Notice{Text: p.Key() + " is no answer here: " + strings.Join(words, ", ") + "."})
}
