package action

import (
	"fmt"

	"bench/oilcan/model"
)

// Beyond refuses care told at a meter's value that the meter has not reached, or that nobody read:
// what is not known must not look fresh.
func Beyond(l Last, told []model.Fact, readings []model.Reading) error {
	if l.Value == nil {
		return nil
	}
	for meter, v := range told[0].Care.Base {
		read := false
		for _, r := range readings {
			if r.Meter != meter {
				continue
			}
			read = true
			if v > r.Value {
				return fmt.Errorf("%s cannot have been done at %s %s: the counter shows %s",
					l.Procedure, model.Number(v), meter, model.Number(r.Value))
			}
		}
		if !read {
			return fmt.Errorf("%s is told at %s %s, and that counter is not read: give a date instead, or say it is not known", l.Procedure, model.Number(v), meter)
		}
	}
	return nil
}
