// Package materials is the table of polymers: drying, wear, heat, air.
package materials

import (
	"bench/oilcan/procedures"
	"bench/oilcan/ui/screen"
	"bench/oilcan/ui/session"
	"bench/oilcan/ui/theme"
)

// New makes the table.
func New(e *screen.Env) screen.Screen { return screen.NewText(e, "materials", lines) }

func lines(t *theme.Theme, w int) []string {
	out := append(screen.Wrapped(t, " ", session.MaterialHead, w-2, theme.Paint{}), "")
	for _, l := range session.MaterialLines(procedures.Materials(), min(w-2, 110)) {
		l = t.Plain(l)
		if l != "" && l[0] != ' ' {
			l = t.Text.Strong.Text(l)
		}
		out = append(out, " "+l)
	}
	for i := range out {
		out[i] = screen.Fit(t, out[i], w)
	}
	return out
}
