package procedures

import (
	_ "embed"
	"fmt"
	"strings"
	"unicode/utf8"
)

//go:embed start.toml
var startFile string

// Start gives a commented file to begin a procedure of one's own with: the built-in file where
// there is one of that id, which the own file then replaces; else an example. It passes the checker
// as it is. An id that cannot be one, or is a set-up action's, is refused.
func Start(id string) ([]byte, error) {
	if !kebab().MatchString(id) || utf8.RuneCountInString(id) > maxTitle {
		return nil, fmt.Errorf(
			"%q cannot be an id: write small letters, digits and hyphens, e.g. hinge-oil", id)
	}
	if data, err := library.ReadFile("library/" + id + ".toml"); err == nil {
		head := "# Your own file in place of the built-in " + id +
			": it says \"yours\" wherever it is shown. Change what\n" +
			"# differs on your bench, then run oilcan procedures check " + id +
			".toml. Without this file the\n" +
			"# built-in one is back.\n\n"
		return append([]byte(head), data...), nil
	}
	if _, err := library.ReadFile("library/setup/" + id + ".toml"); err == nil {
		return nil, fmt.Errorf(
			"%q is a set-up action, whose safety is the program's own: choose another id", id)
	}
	kind := "care"
	if strings.HasSuffix(id, "-look") {
		kind = "look"
	}
	title := strings.ReplaceAll(id, "-", " ")
	title = strings.ToUpper(title[:1]) + title[1:]
	return []byte(strings.NewReplacer("ID", id, "TITLE", title, "KIND", kind).Replace(startFile)),
		nil
}
