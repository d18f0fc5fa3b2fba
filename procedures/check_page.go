package procedures

import (
	"slices"
	"strings"
	"unicode"

	"bench/oilcan/model"
)

// paged tells whether the file is written for pages: then every step has its row, and what passes
// it.
func (c *checker) paged() bool {
	return slices.ContainsFunc(c.p.Steps, func(s model.Step) bool { return s.Line != "" })
}

// page checks how a step stands on a page and is passed.
func (c *checker) page(s place) {
	x := s.s
	c.text(in(s.where, "line"), x.Line, maxLine)
	c.raised(s)
	if x.Decision && x.Gate != model.Choice {
		c.bad(in(s.where, "decision"),
			"%q is no choice, so nothing is decided there: leave decision out", x.Name)
	}
	switch {
	case len(x.Meanwhile) > 0 && x.Rank() == model.Hold:
		c.bad(in(s.where, "meanwhile"),
			"%q stands alone and cannot be done in a wait: leave meanwhile out", x.Name)
	case len(x.Meanwhile) > 0 && !x.Untouching():
		c.bad(in(s.where, "meanwhile"),
			"%q does something to the machine or asks for a figure, and in a wait is only looked: leave meanwhile out", x.Name)
	}
	if x.Attended && x.Rank() != model.Hold {
		c.bad(in(s.where, "attended"),
			"%q is attended, so it stands alone: write alone = true, or leave attended out", x.Name)
	}
	c.beside(s)
	c.seen(s)
	if !c.paged() || s.later {
		return
	}
	if x.Line == "" {
		c.bad(s.where,
			"%q has no line, and other steps of the file have: write it as the row of a page, at most %d characters", x.Name, maxLine)
	}
	if len(x.Back)+len(x.Taken) > 0 && x.Rank() == model.PlainLine {
		c.bad(s.where,
			"%q takes something off the ledger and passes with other rows: move that to the count behind it, or write own_key = true", x.Name)
	}
	c.letters(s)
}

// raised checks the keys that raise a step's rank.
func (c *checker) raised(s place) {
	x := s.s
	switch {
	case x.Alone && x.OwnKey:
		c.bad(in(s.where, "own_key"), "%q is alone already, which is more: leave own_key out",
			x.Name)
	case x.OwnKey && x.Rank() == model.Hold:
		c.bad(in(s.where, "own_key"), "%q stands alone by what it does: leave own_key out", x.Name)
	case x.OwnKey && x.Gate != model.Choice && x.Gate != model.Confirm:
		c.bad(in(s.where, "own_key"),
			"the answer of %q is typed, so it never passes with other rows: leave own_key out", x.Name)
	}
}

// beside checks that a hold that shares the screen of the one before it is only asked: with an act
// between they stand apart.
func (c *checker) beside(s place) {
	x := s.s
	if !x.Beside {
		return
	}
	i := slices.IndexFunc(c.p.Steps, func(y model.Step) bool { return y.Name == x.Name })
	waits := x.Gate == model.Wait && i > 0 && c.p.Steps[i-1].Gate == model.Wait
	acts := x.Gate == model.State || x.Gate == model.Wait && !waits || x.Gate == model.Confirm ||
		x.Own ||
		len(x.Out)+len(x.In)+len(x.Back)+len(x.Taken)+len(x.Set)+len(x.Starts)+len(x.Drives) > 0
	switch {
	case x.Rank() != model.Hold || i < 1 || c.p.Steps[i-1].Rank() != model.Hold:
		c.bad(in(s.where, "beside"),
			"%q or the step before it does not stand alone: leave beside out", x.Name)
	case acts:
		c.bad(in(s.where, "beside"),
			"%q is an act, and what was done before is answered first: leave beside out", x.Name)
	}
}

// seen checks the ordinary answers of a step.
func (c *checker) seen(s place) {
	x := s.s
	if len(x.Seen) > 0 && (x.Decision || x.Typed() || x.Gate == model.Wait ||
		x.Gate == model.State) {
		c.bad(in(s.where, "seen"),
			"%q has no ordinary answer, it is typed or decided anew each time: leave seen out", x.Name)
		return
	}
	for i, o := range x.Seen {
		where := in(s.where, "seen")
		if len(x.Seen) > 1 {
			where = in(where, i)
		}
		if x.Gate != model.Choice {
			c.text(where, o.Is, maxSeen)
			continue
		}
		at := slices.IndexFunc(x.Options, func(q model.Option) bool { return q.Is == o.Is })
		switch {
		case at < 0:
			c.bad(where, "%s", notOnList("option", o.Is, optionWords(x)))
		case x.Options[at].Miss != nil:
			c.bad(where, "seen = %q does not simply pass: name an option without a miss", o.Is)
		}
	}
	answered := x.Gate == model.Choice || x.Gate == model.Confirm
	if c.paged() && !s.later && answered && len(x.Seen) == 0 && !x.Decision &&
		x.Rank() != model.Hold {
		c.bad(s.where,
			"%q has no seen: write what is seen when it is right, or decision = true where steps or cautions hang on the answer", x.Name)
	}
}

// letters checks that the answers of a choice that stands alone can be told apart by their first
// letters. b is for taking back.
func (c *checker) letters(s place) {
	x := s.s
	if x.Gate != model.Choice || x.Rank() != model.Hold {
		return
	}
	taken := map[rune]string{'b': "back"}
	for i, o := range x.Options {
		r, _ := firstLetter(o.Is)
		if other := taken[r]; other != "" {
			c.bad(in(s.where, "options", i),
				"%q begins with the letter of %q, and a choice that stands alone is answered by one letter: say one of them in another word", o.Is, other)
			continue
		}
		taken[r] = o.Is
	}
}

// firstLetter is the letter an answer is given by.
func firstLetter(s string) (rune, bool) {
	for _, r := range strings.ToLower(s) {
		return r, unicode.IsLetter(r)
	}
	return 0, false
}
