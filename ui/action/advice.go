package action

import (
	"errors"

	"bench/oilcan/model"
)

// advice is what helps where the model, which knows neither commands nor keys, can only say what is
// wrong.
var advice = []struct {
	of   error
	says string
}{
	{model.ErrNoMachineYet, "add one with oilcan machine add"},
	{model.ErrUnknownFeature, "oilcan machine add --help lists them all"},
	{model.ErrUnknownProcedure, "oilcan procedures list names them all"},
	{model.ErrNoText, "oilcan check tells what else is missing"},
}

// Advised is an error of the model as a sentence that says what to do, too.
func Advised(err error) string {
	text := err.Error()
	for _, a := range advice {
		if errors.Is(err, a.of) {
			return text + "; " + a.says
		}
	}
	return text
}
