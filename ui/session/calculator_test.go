package session

import (
	"testing"

	"bench/oilcan/model"
)

// How a value was worked out stands beside the value, or beside the answer that did not pass.
func TestWorkedOut(t *testing.T) {
	w := &model.Worked{By: "belt"}
	passed := []model.Fact{{Kind: model.KindWalk, Walk: &model.Walked{What: "passed"}},
		{Kind: model.KindValue, Value: &model.Measured{Name: "belt left"}}}
	workedOut(passed, w)
	if passed[1].Value.From != w || passed[0].Walk.From != nil {
		t.Errorf("passed: %+v", passed)
	}
	missed := []model.Fact{{Kind: model.KindWalk, Walk: &model.Walked{What: "missed"}}}
	workedOut(missed, w)
	if missed[0].Walk.From != w {
		t.Errorf("missed: %+v", missed)
	}
	workedOut(missed, nil)
	if missed[0].Walk.From != w {
		t.Error("what was read off takes it away")
	}
}
