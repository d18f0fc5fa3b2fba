package screen

import (
	"cmp"
	"slices"
	"strings"

	"bench/oilcan/ui/theme"
)

// newHelp makes the help page of a screen as it is now: what its keys do, and what its words and
// shapes mean.
func newHelp(e *Env, of Screen) Screen {
	left, _ := of.Title()
	parts := []HelpPart{keysHelp(of.Keys())}
	if x, ok := of.(Explained); ok {
		parts = append(parts, x.Help()...)
	}
	p := NewText(e, "help: "+left, func(t *theme.Theme, w int) []string {
		var out []string
		for i, p := range parts {
			if i > 0 {
				out = append(out, "")
			}
			out = append(out, helpPart(t, p, min(w, 100))...)
		}
		return out
	})
	p.(*textPage).help = true
	return p
}

// isHelp tells the help page.
func isHelp(s Screen) bool {
	p, ok := s.(*textPage)
	return ok && p.help
}

// everywhere are the root's own keys.
var everywhere = []Key{
	Shown("esc", "", "goes back; it never throws anything away without asking"),
	Shown("?", "", "this page (f1 where letters are typed)"),
	Shown("ctrl+c", "", "leaves at once, when what was asked to be saved is on disk"),
}

// keysHelp says what keys do, the root's own too.
func keysHelp(of []Key) HelpPart {
	keys := HelpPart{Head: "keys"}
	for _, k := range slices.Concat(of, everywhere) {
		if !k.Enabled() || k.label() == "esc" && k.does() == "back" && k.says == "" {
			continue // esc is said once, below
		}
		keys.Lines = append(keys.Lines, k.label()+"\t"+cmp.Or(k.says, k.does()))
	}
	return keys
}

// helpPart lays one part out: terms in a column of their own, as wide as the widest.
func helpPart(t *theme.Theme, p HelpPart, w int) []string {
	col := 0
	for _, l := range p.Lines {
		if term, _, ok := strings.Cut(l, "\t"); ok {
			col = max(col, theme.Width(t.Plain(term)))
		}
	}
	col = min(col, w/3)
	out := []string{" " + t.Text.Strong.Text(t.Plain(p.Head))}
	for _, l := range p.Lines {
		term, says, ok := strings.Cut(t.Plain(l), "\t")
		if !ok {
			for _, s := range theme.Wrap(term, w-4) {
				out = append(out, "   "+s)
			}
			continue
		}
		lead := "   " + t.Text.Accent.Text(term) +
			strings.Repeat(" ", max(0, col-theme.Width(term))) + "  "
		for _, s := range theme.Wrap(says, w-col-6) {
			out = append(out, lead+s)
			lead = strings.Repeat(" ", col+5)
		}
	}
	return out
}
