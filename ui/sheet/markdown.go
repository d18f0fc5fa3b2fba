package sheet

import (
	"fmt"
	"strings"

	"bench/oilcan/ui/book"
)

// Markdown writes a sheet as CommonMark with the tables and boxes of GitHub Flavored Markdown.
func (d Doc) Markdown() string {
	var b strings.Builder
	md := book.AsMarkdown
	line := func(format string, args ...any) { b.WriteString(fmt.Sprintf(format, args...) + "\n") }
	line("# %s\n", md(d.Title))
	for _, t := range d.Under {
		line("%s  ", md(t))
	}
	for _, p := range d.Parts {
		if p.Head != "" {
			line("\n## %s", md(p.Head))
		}
		for _, t := range p.Text {
			line("\n%s", md(t))
		}
		if len(p.Rows) > 0 {
			line("\n|%s", strings.Repeat(" |", len(p.Rows[0])))
			line("|%s", strings.Repeat("---|", len(p.Rows[0])))
		}
		for _, r := range p.Rows {
			cells := make([]string, len(r))
			for i, c := range r {
				cells[i] = md(c)
			}
			line("| %s |", strings.Join(cells, " | "))
		}
		markdownLists(p, line)
	}
	for _, t := range d.Foot {
		line("\n%s", md(t))
	}
	return strings.TrimSpace(b.String())
}

func markdownLists(p Part, line func(string, ...any)) {
	md := book.AsMarkdown
	if len(p.List)+len(p.Ticks) > 0 {
		line("")
	}
	for _, t := range p.List {
		line("- %s", md(t))
	}
	for _, t := range p.Ticks {
		line("- [ ] %s", md(t))
	}
	if len(p.Gauges) > 0 {
		line("\n| care | is | used | when |\n|---|---|---|---|")
	}
	for _, g := range p.Gauges {
		tick := ""
		if g.Tick {
			tick = "☐ "
		}
		line("| %s%s | %s | %s | %s |", tick, md(g.Title), md(string(g.Word)), md(g.UsedText()),
			md(g.When))
	}
	for _, s := range p.Steps {
		for _, c := range s.Cautions {
			line("\n> **%s** %s **%s**", md(c.Signal), md(c.Harm), md(c.Avoid))
		}
		line("\n%d\\. ☐ %s", s.Number, md(s.Do))
		asks := md(s.Asks)
		if s.Blank {
			asks += strings.TrimSuffix(" `__________` "+md(s.Unit), " ")
		}
		for _, c := range s.Choices {
			asks += " ☐ " + md(c)
		}
		if asks != "" {
			line("   **%s**", strings.TrimSpace(asks))
		}
		if s.Screw != "" {
			line("   %s", md(s.Screw))
		}
		for _, e := range s.Else {
			line("   - %s", md(e))
		}
	}
}
