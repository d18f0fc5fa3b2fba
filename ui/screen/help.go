package screen

import (
	"cmp"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/ui/theme"
)

// helpPage says what the keys of a screen do, and what its words and shapes mean.
type helpPage struct {
	Base
	Pager
	of    string
	keys  []Key
	parts []HelpPart
}

// newHelp makes the help page of a screen as it is now.
func newHelp(e *Env, of Screen) *helpPage {
	left, _ := of.Title()
	h := &helpPage{Base: e.Base(), of: left, keys: of.Keys()}
	h.MachinesOnly = true
	if x, ok := of.(Explained); ok {
		h.parts = x.Help()
	}
	return h
}

func (h *helpPage) SetSize(w, ht int) {
	h.Base.SetSize(w, ht)
	h.Fill(h.lines(), ht)
}

func (h *helpPage) Title() (string, string) { return "help: " + h.of, "" }

func (h *helpPage) Keys() []Key {
	return append(h.Pager.Keys(), Back)
}

func (h *helpPage) Update(msg tea.Msg) (Screen, tea.Cmd) {
	if h.Take(msg) {
		return h, nil
	}
	if p, ok := msg.(Press); ok {
		Act(h.Keys(), p)
	}
	return h, nil
}

func (h *helpPage) View() string { return h.Pager.View(h.Env.Theme, h.W) }

// everywhere are the root's own keys.
var everywhere = []Key{
	Shown("esc", "", "goes back; it never throws anything away without asking"),
	Shown("?", "", "this page (f1 where letters are typed)"),
	Shown("ctrl+c", "", "leaves at once, when what was asked to be saved is on disk"),
}

// lines lays the page out for the width.
func (h *helpPage) lines() []string {
	keys := HelpPart{Head: "keys"}
	for _, k := range append(append([]Key(nil), h.keys...), everywhere...) {
		if !k.Enabled() || k.label() == "esc" && k.does() == "back" && k.says == "" {
			continue // esc is said once, below
		}
		keys.Lines = append(keys.Lines, k.label()+"\t"+cmp.Or(k.says, k.does()))
	}
	var out []string
	for i, p := range append([]HelpPart{keys}, h.parts...) {
		if i > 0 {
			out = append(out, "")
		}
		out = append(out, helpPart(h.Env.Theme, p, min(h.W, 100))...)
	}
	return out
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
