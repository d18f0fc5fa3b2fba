package session

import (
	"fmt"

	"bench/oilcan/model/walk"
)

// LayGroup is one part of what a session lays out; its things are numbered through all parts, as
// they are named when one is missing.
type LayGroup struct {
	Head  string
	Items []string
}

// LayGroups writes the list of what is to be laid out.
func LayGroups(list []walk.LayItem) []LayGroup {
	var out []LayGroup
	for i, x := range list {
		if len(out) == 0 || out[len(out)-1].Head != x.Kind {
			out = append(out, LayGroup{Head: x.Kind})
		}
		g := &out[len(out)-1]
		g.Items = append(g.Items, fmt.Sprintf("%d %s", i+1, layText(x)))
	}
	return out
}

func layText(x walk.LayItem) string {
	switch {
	case x.Kind != "supplies":
		return x.Name + perhaps(x.Lay)
	case x.Look != "":
		return SupplyText(x.Lay) + " (" + x.Look + ")"
	}
	return SupplyText(x.Lay)
}
