package command

import (
	"bytes"
	"encoding/json"
	"fmt"
	"slices"

	"bench/oilcan/model"
)

// listKeys are the fields of a procedure that are lists, written as [] where empty.
var listKeys = []string{"needs", "needs_any", "counts_as", "after", "proof", "interval", "trigger",
	"setting",

	"tool", "supply", "gear", "caution", "step", "later", "symptom", "owns"}

// procedureJSON gives every field of a procedure's file for programs, in the file's own words: only
// and rung in their short form where they have one, leave by its variables. What a reader relies on
// is there also where it is empty.
func procedureJSON(p *model.Procedure) (map[string]any, error) {
	data, err := json.Marshal(p)
	if err != nil {
		return nil, err
	}
	d := json.NewDecoder(bytes.NewReader(data))
	d.UseNumber()
	var m map[string]any
	if err := d.Decode(&m); err != nil {
		return nil, err
	}
	shorten(m)
	for _, k := range listKeys {
		if _, ok := m[k]; !ok && p.Kind != model.SetUp {
			m[k] = []any{}
		}
	}
	for _, k := range []string{"require", "leave"} {
		if _, ok := m[k]; !ok {
			m[k] = map[string]any{}
		}
	}
	for _, k := range []string{"handson", "waiting"} {
		if _, ok := m[k]; !ok {
			m[k] = 0
		}
	}
	if r, ok := m["rung"].([]any); ok && len(r) == 1 {
		m["rung"] = shortForm(r[0])
	}
	if l, ok := m["leave"].([]any); ok {
		m["leave"] = byVariable(l)
	}
	delete(m, "file")
	return m, nil
}

// shorten writes every only that names features alone as their list, all through a value.
func shorten(v any) {
	switch v := v.(type) {
	case map[string]any:
		if o, ok := v["only"].(map[string]any); ok && len(o) == 1 && o["features"] != nil {
			v["only"] = o["features"]
		}
		for _, x := range v {
			shorten(x)
		}
	case []any:
		for _, x := range v {
			shorten(x)
		}
	}
}

// shortForm is { is = "x" } as "x", where it says nothing else.
func shortForm(v any) any {
	if m, ok := v.(map[string]any); ok && len(m) == 1 && m["is"] != nil {
		return m["is"]
	}
	return v
}

// byVariable turns a list of what is left into a table by variable; a variable with several
// conditions keeps them as a list.
func byVariable(list []any) map[string]any {
	out := map[string]any{}
	for _, v := range list {
		m, ok := v.(map[string]any)
		if !ok {
			continue
		}
		name := fmt.Sprint(m["variable"])
		delete(m, "variable")
		switch have := out[name].(type) {
		case nil:
			out[name] = shortForm(m)
		case []any:
			out[name] = append(slices.Clone(have), shortForm(m))
		default:
			out[name] = []any{have, shortForm(m)}
		}
	}
	return out
}
