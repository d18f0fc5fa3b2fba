package command

import (
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"bench/oilcan/ui/session"
	"bench/oilcan/ui/sheet"
	"bench/oilcan/ui/theme"
)

// formatFlag adds the flag that says how an answer is written; the first format is the usual one.
func formatFlag(c *cobra.Command, format *string, formats []string) {
	c.Flags().StringVar(format, "format", formats[0], "`how`: "+either(formats))
	completeFlag(c, "format", words(formats...))
}

// checkFormat puts --json in, and refuses a format there is not.
func checkFormat(a *app, what string, format *string, formats []string) error {
	if a.flags.json {
		*format = "json"
	}
	if !slices.Contains(formats, *format) {
		return misuse("%s is written as %s, not %q", what, either(formats), *format)
	}
	return nil
}

// either names what can be chosen: "text, csv or json".
func either(list []string) string {
	last := len(list) - 1
	return strings.Join(list[:last], ", ") + " or " + list[last]
}

// sheetFormats are those of a page that is printed.
var sheetFormats = []string{"html", "markdown"}

func writeSheet(a *app, d sheet.Doc, format string) error {
	text := d.HTML()
	if format == "markdown" {
		text = d.Markdown()
	}
	a.say("%s", theme.Painted(text))
	return nil
}

// recordedSheet is the page of a session on record.
func recordedSheet(a *app, id string) (sheet.Doc, error) {
	st, err := a.store()
	if err != nil {
		return sheet.Doc{}, err
	}
	r, err := session.Record(st, id, names(a), a.now())
	if err != nil {
		return sheet.Doc{}, unusable(err)
	}
	return sheet.Done(r, names(a), a.now()), nil
}
