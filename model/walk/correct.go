package walk

import (
	"fmt"
	"maps"
	"strings"

	"bench/oilcan/model"
)

// Correctable gives the number asked once of this machine that the current count must equal, and
// what it is; -1 where nobody knew.
func (w *Walk) Correctable() (setting string, is int, ok bool) {
	s := w.Step()
	if s == nil || s.Gate != model.Count || s.Equal == nil || s.Equal.Setting == "" {
		return "", 0, false
	}
	if v, ok := model.SettingNumber(w.Begun.Settings[s.Equal.Setting]); ok {
		return s.Equal.Setting, int(v), true
	}
	return s.Equal.Setting, -1, true
}

// correct puts a number right that was asked once and is wrong: a gate that wants it cannot be
// passed by counting truly. It holds from here on, and for the machine.
func (w *Walk) correct(c Context, p Prompt, text string) (Reply, error) {
	name, is, ok := w.Correctable()
	switch {
	case p.Kind != AskStep || !ok || c.Machine == nil:
		return refuse("Nothing counted here was asked once of this machine."), nil
	case text == "":
		return refuse("Type the right number after the word set."), nil
	}
	set := model.Setting{Name: name, Number: true}
	for _, s := range w.Block().Proc.Settings {
		if s.Name == name {
			set = s
		}
	}
	kept, err := set.Value(text)
	if err != nil {
		return refuse("Nothing is changed: %s.", strings.TrimSuffix(err.Error(), ".")), nil
	}
	v, _ := model.SettingNumber(kept)
	if int(v) == is {
		return refuse("It is %d on record already.", is), nil
	}
	m := c.Machine.MachineFact
	was := fmt.Sprintf("it was %d", is)
	if is < 0 {
		was = "nobody had said it"
	}
	m.Settings = maps.Clone(m.Settings)
	if m.Settings == nil {
		m.Settings = map[string]string{}
	}
	m.Settings[name] = kept
	x := model.Walked{What: Corrected, Item: name, Answer: m.Settings[name], Number: &v, Why: was}
	return w.complete(c, Reply{
		Facts: []model.Fact{w.walked(x), {Kind: model.KindMachine, Machine: &m}},
		Note: fmt.Sprintf("%s is %s from here on, and on record for this machine; %s.",
			w.Step().Ask, x.Answer, was),
	})
}

func (w *Walk) foldCorrected(x *model.Walked) {
	w.Begun.Settings = maps.Clone(w.Begun.Settings)
	w.Begun.Settings[x.Item] = x.Answer
	delete(w.tries, w.here())
}
