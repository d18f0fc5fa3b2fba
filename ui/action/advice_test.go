package action

import (
	"errors"
	"fmt"
	"testing"

	"bench/oilcan/model"
)

func TestAdviceIsAdded(t *testing.T) {
	_, err := model.FindMachine(model.NewBench(), "Heron")
	for _, c := range []struct {
		err  error
		want string
	}{
		{err, `no machine is called "Heron": there is none yet; add one with oilcan machine add`},
		{fmt.Errorf("before: %w", err),
			`before: no machine is called "Heron": there is none yet; add one with oilcan machine add`},
		{errors.New("a word"), "a word"},
	} {
		if got := Advised(c.err); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
	if _, err := model.ParseFeatures([]string{"zzzzzzzzzzz"}); Advised(err) != `unknown feature "zzzzzzzzzzz": it is none of the features; oilcan machine add --help lists them all` {
		t.Error(Advised(err))
	}
}
