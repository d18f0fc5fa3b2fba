package measure

import (
	"cmp"
	"fmt"
	"slices"

	"bench/oilcan/model"
)

// Run is what was read of one quantity on one machine, oldest first.
type Run struct {
	Quantity string
	Unit     string
	Points   []model.Recorded
}

// Runs are the quantities that were read, among a machine's entries, by name. What was
// struck counts as never read; readings in another unit than the last one begin anew.
func Runs(entries []model.Entry) []Run {
	struck := model.Struck(entries)
	by := map[string]*Run{}
	es := slices.Clone(entries)
	slices.SortStableFunc(es, func(a, b model.Entry) int {
		return cmp.Or(a.At.Compare(b.At), cmp.Compare(a.Seq, b.Seq))
	})
	for _, e := range es {
		v := e.Value
		if v == nil || struck[e.Action] {
			continue
		}
		r := by[v.Name]
		if r == nil || !model.SameUnit(v.Unit, r.Unit) {
			r = &Run{Quantity: v.Name, Unit: v.Unit}
			by[v.Name] = r
		}
		r.Points = append(r.Points, model.Recorded{At: e.At, Value: v.Value, Unit: v.Unit})
	}
	var out []Run
	for _, r := range by {
		out = append(out, *r)
	}
	slices.SortFunc(out, func(a, b Run) int { return cmp.Compare(a.Quantity, b.Quantity) })
	return out
}

// Values are the readings alone.
func (r Run) Values() []float64 {
	out := make([]float64, len(r.Points))
	for i, p := range r.Points {
		out[i] = p.Value
	}
	return out
}

// Last is the latest reading.
func (r Run) Last() model.Recorded { return r.Points[len(r.Points)-1] }

// Usual says within which limits the machine's readings lie, and whether the last one does not;
// limits is "" below eight readings, and where they never differ.
func (r Run) Usual() (limits string, outside bool) {
	c, ok := Individuals(r.Values())
	if !ok || c.Range == 0 {
		return "", false
	}
	return fmt.Sprintf("%s to %s %s", figure(c.Low), figure(c.High), r.Unit),
		c.Outside(r.Last().Value)
}

// Outside is what is said of a reading beyond its limits.
const Outside = "outside what this machine does"
