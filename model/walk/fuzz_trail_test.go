package walk_test

import (
	"fmt"
	"strings"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
)

// trailLen is how many entries before a failure are shown.
const trailLen = 60

// trail says what led to a failure: the latest entries of the journal, the book, what is believed,
// and how the machine stands by the test's own account.
func (w *watcher) trail() string {
	var out strings.Builder
	es := w.r.J.Entries
	for _, e := range es[max(0, len(es)-trailLen):] {
		if x := e.Walk; x != nil {
			fmt.Fprintf(&out, "%s %s %s/%s %s\n", e.At.Format("15:04:05"), x.What, x.ID, x.Step,
				told(x))
		}
	}
	fmt.Fprintf(&out, "features %v, pace %s\n", w.r.W.Begun.Features, w.r.Pace)
	fmt.Fprintf(&out, "book %s\nbelieved %v\n", walk.LedgerLine(w.r.W.Ledger()), w.r.W.Believed)
	fmt.Fprintf(&out, "machine: power %s, out %v, flags %v, heat %+v", w.shop.power, w.shop.has,
		w.shop.flags, w.shop.heat)
	return out.String()
}

// told is what an entry says, as far as it says anything.
func told(x *model.Walked) string {
	var out []string
	for _, part := range []string{string(x.Variable), x.Item, x.Answer, string(x.Then), x.To,
		string(x.How), x.Why} {
		if part != "" {
			out = append(out, fmt.Sprintf("%.70q", part))
		}
	}
	for _, b := range x.Plan {
		out = append(out, b.ID)
	}
	return strings.Join(out, " ")
}
