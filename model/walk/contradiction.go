package walk

import (
	"fmt"

	"bench/oilcan/model"
)

// contradicted gives the first item to be counted that cannot be as the book has it if what was
// said of the machine is true; it is asked at once. "" for none.
func (w *Walk) contradicted() string {
	for _, item := range w.toCount {
		if w.saidAgainst(item) != "" {
			return item
		}
	}
	return ""
}

// saidAgainst gives the variable that was said to be so that nothing of an item can be out or in: a
// panel in its place is not out, and a bed that is high stands on no block. "" where nothing speaks
// against it.
func (w *Walk) saidAgainst(item string) model.Variable {
	switch {
	case w.total(item) == 0:
		return ""
	case item == blocksItem && w.Believed[model.Bed] == model.High:
		return model.Bed
	}
	for _, p := range w.setups {
		c := p.Change
		if c == nil || c.Variable == model.Power || c.To == model.Values[c.Variable][0] ||
			w.Believed[c.Variable] != model.Values[c.Variable][0] {
			continue
		}
		for _, s := range p.Steps {
			if a, ok := s.Out[item]; ok && s.Only.Step == "" && fixed(&s, a) > 0 {
				return c.Variable
			}
		}
	}
	return ""
}

// againstWords is how a count begins that what was said speaks against.
func (w *Walk) againstWords(v model.Variable, item string, n int, where string) string {
	if v == model.Bed {
		return fmt.Sprintf("The %s is said to be high, and the book has blocks %s: %d. Look under it. How many do you count", w.bedWord(), where, n)
	}
	return fmt.Sprintf("%s is said to be %s, and the book has %s %s: %d. How many do you count",
		upperFirst(string(v)), w.Believed[v], item, where, n)
}

// bothCannotBe refuses a count that contradicts what was said.
func (bel *belief) bothCannotBe(v model.Variable, n int) string {
	if v == model.Bed {
		return fmt.Sprintf("With %d under it, it stands on blocks and is not high. Take back with back how you said it stands, and say on blocks; "+
			"what only lies there, take out by its side first, then type 0 back.", n)
	}
	return fmt.Sprintf("It cannot be out with %s %s. Look again: \"0 back\" where it is in its place, else go back to how you said it stands.",
		v, bel.Believed[v])
}

// bedWord is what moves up and down in the machine.
func (g *given) bedWord() string {
	if g.Features()["bedslinger"] {
		return "gantry"
	}
	return "bed"
}
