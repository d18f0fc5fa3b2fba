package book

import (
	"strings"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/ui/theme"
)

// Markdown writes lines under a heading for each day, with days and clocks in the zone of now. What
// was struck is struck through (GitHub Flavored Markdown, 6.5).
func Markdown(lines []Line, machine func(model.Entry) string, now time.Time) string {
	var b strings.Builder
	b.WriteString("# Book\n\n" + NoCertificate + "\n")
	day := ""
	for _, l := range lines {
		e := l.Entry
		if d := model.Day(e.At, now); d != day {
			day = d
			b.WriteString("\n## " + day + "\n\n")
		}
		text := AsMarkdown(l.Text)
		if l.Struck {
			text = "~~" + text + "~~ " + AsMarkdown(Because("(struck", l.Why)) + ")"
		}
		b.WriteString("- " + model.Clock(e.At, now))
		for _, s := range []string{machine(e), e.By} {
			if s != "" {
				b.WriteString(" · " + AsMarkdown(s))
			}
		}
		b.WriteString(": " + text + "\n")
	}
	return b.String()
}

// markdownSigns is the punctuation that Markdown may read as more than itself within a row
// (CommonMark 0.31, 2.4). A point or dash does so only where it begins one.
const markdownSigns = "\\`*_{}[]<>()#!|~&"

// AsMarkdown makes a text safe to draw, and one that Markdown shows as it is.
func AsMarkdown(s string) string {
	var b strings.Builder
	for _, r := range theme.Safe(s) {
		if strings.ContainsRune(markdownSigns, r) {
			b.WriteByte('\\')
		}
		b.WriteRune(r)
	}
	return b.String()
}
