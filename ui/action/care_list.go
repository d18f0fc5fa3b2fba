package action

import (
	"fmt"
	"slices"
	"strings"

	"bench/oilcan/model"
)

// CareList reads what a machine is kept by: starter, all, the whole list of procedures by id, title
// or short name, or changes to it: +fans-blow,-camera-clean.
func CareList(procs []*model.Procedure, f model.MachineFact, text string) (model.MachineFact,
	error) {
	fs := model.NewFeatureSet(f.Features...)
	switch strings.ToLower(strings.TrimSpace(text)) {
	case "starter":
		f.CareList = model.StarterList(procs, fs)
		return f, nil
	case "all":
		f.CareList = nil
		return f, nil
	}
	var plain, signed bool
	fresh := f
	fresh.CareList = []string{}
	for w := range strings.SplitSeq(text, ",") {
		w = strings.TrimSpace(w)
		if w == "" {
			continue
		}
		sign := w[0]
		word := strings.TrimLeft(w, "+-")
		p, err := FindProcedure(procs, word)
		if err != nil {
			return f, err
		}
		if !slices.Contains(model.FullList(procs, fs), p.ID) {
			return f,
				fmt.Errorf("%q cannot be kept on %s: it needs something the machine does not have, or goes with every session", p.Title, f.Name)
		}
		switch sign {
		case '+', '-':
			signed = true
			f = f.WithCare(procs, p.ID, sign == '+')
		default:
			plain = true
			fresh = fresh.WithCare(procs, p.ID, true)
		}
	}
	switch {
	case signed && plain:
		return f,
			fmt.Errorf("%q mixes two ways: write the whole list, or only changes like +fans-blow,-camera-clean", text)
	case !signed && !plain:
		return f, fmt.Errorf(
			"%q names no care: write starter, all, or a list like fans-blow,rods-wipe", text)
	case plain:
		return fresh, nil
	}
	return f, nil
}
