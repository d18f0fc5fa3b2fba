package action

import (
	"strings"
	"unicode"
)

// Typed is a name as it is typed in a POSIX shell: as it is where it holds nothing the shell reads
// otherwise, else in single quotes. What it gives is always one word, and that word is the name.
func Typed(name string) string {
	plain := func(r rune) bool {
		return unicode.IsLetter(r) || unicode.IsDigit(r) || strings.ContainsRune("_-.,:/+@%", r)
	}
	if name != "" && strings.IndexFunc(name, func(r rune) bool { return !plain(r) }) < 0 {
		return name
	}
	return "'" + strings.ReplaceAll(name, "'", `'\''`) + "'"
}
