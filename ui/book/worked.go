package book

import (
	"strings"

	"bench/oilcan/model"
)

// valued says a value, and how it was worked out.
func valued(v *model.Measured) string {
	return strings.TrimSpace(v.Name+" "+model.Figure(v.Value)+" "+v.Unit) + workedOut(v.From)
}

// workedOut says how a value was worked out; "" where it was read off.
func workedOut(w *model.Worked) string {
	if w == nil {
		return ""
	}
	return ", by " + w.By + " from " + figures(w.Given) + "; " + figures(w.Gave)
}

// figures lists what was given or came of it.
func figures(list []model.Given) string {
	var out []string
	for _, g := range list {
		out = append(out, g.Name+" "+g.Text)
	}
	return strings.Join(out, ", ")
}
