package walk

import (
	"reflect"

	"bench/oilcan/model"
)

// AfterBothWays gives the walk as it would stand after facts: folded onto a clone, and all folded
// anew.
func (w *Walk) AfterBothWays(c Context, facts []model.Fact) (onto, anew *Walk) {
	return w.after(c, facts), w.Anew(w.pendingEntries(c, facts)...)
}

// Anew folds all entries of a walk, and more, from the beginning.
func (w *Walk) Anew(more ...model.Entry) *Walk {
	next := &Walk{given: given{texts: w.texts}}
	next.refold(effective(w.entries, more))
	return next
}

// Counting are the entries that count: what was taken back is not among them.
func (w *Walk) Counting() []*model.Entry { return w.entries }

// SharedWithClone names the maps and the slices that a walk has in common with its clone.
func (w *Walk) SharedWithClone() []string {
	return shared(reflect.ValueOf(*w), reflect.ValueOf(*w.clone()))
}

func shared(a, b reflect.Value) []string {
	var out []string
	for i := range a.NumField() {
		name, x, y := a.Type().Field(i).Name, a.Field(i), b.Field(i)
		switch x.Kind() {
		case reflect.Struct:
			if x.Type().PkgPath() == a.Type().PkgPath() { // a part of the walk
				out = append(out, shared(x, y)...)
			}
		case reflect.Map, reflect.Slice:
			if !x.IsNil() && x.Pointer() == y.Pointer() &&
				(x.Kind() == reflect.Map || x.Len() > 0) {
				out = append(out, name)
			}
		}
	}
	return out
}

// Cautions gives those of the current step.
func (at *progress) Cautions() []model.Caution {
	b, s := at.Block(), at.Step()
	if s == nil {
		return nil
	}
	return CautionsFor(b.Proc, s, at.firstOf(b) == at.StepAt)
}
