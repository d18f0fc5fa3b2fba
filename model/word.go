package model

import "strings"

// IsYes tells whether an answer says yes, or that something is done: ok, yes, y or done.
func IsYes(answer string) bool {
	switch strings.ToLower(strings.TrimSpace(answer)) {
	case "ok", "yes", "y", "done":
		return true
	}
	return false
}

// Listed joins words with commas, and the last with one of its own: "hot end, bed and chamber".
func Listed(words []string, last string) string {
	if n := len(words); n > 1 {
		return strings.Join(words[:n-1], ", ") + " " + last + " " + words[n-1]
	}
	return strings.Join(words, "")
}

// Nearest gives the word of list closest to word by edit distance, where it is close enough to be
// what was meant: at most a third of the word, and at most three letters, differ. Else "".
func Nearest(word string, list []string) string {
	best, limit := "", min(3, max(1, len(word)/3))
	for _, w := range list {
		if d := distance(word, w); d <= limit {
			best, limit = w, d-1
		}
	}
	return best
}
