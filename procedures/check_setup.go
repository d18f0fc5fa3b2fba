package procedures

import (
	"strings"

	"bench/oilcan/model"
)

// setUp checks a set-up action against its row of the table.
func (c *checker) setUp() {
	p := c.p
	if !c.isSetUp() {
		if p.Change != nil {
			c.bad(at("change"),
				"only a set-up action has [change]: write [leave], or kind = \"setup\"")
		}
		if _, is := setUpRow(p.ID); is {
			c.bad(at("kind"),
				"%q is the id of a set-up action: write kind = \"setup\", or another id", p.ID)
		}
		return
	}
	row, ok := setUpRow(p.ID)
	switch {
	case p.Yours:
		c.bad(at("kind"),
			"own files cannot be set-up actions, all safety stands on those: write a procedure")
		return
	case !ok:
		ids := make([]string, len(setUpTable))
		for i, s := range setUpTable {
			ids[i] = s.id
		}
		c.bad(at("id"), "%s", notOnList("set-up action", p.ID, ids))
		return
	case row.change == (model.Change{}) && p.Change != nil:
		c.bad(at("change"), "%s changes no state: leave [change] out", p.ID)
		return
	case p.Change == nil && row.change != (model.Change{}):
		c.bad(at(), "a set-up action needs [change]: write variable = %q, from = %q, to = %q",
			row.change.Variable, row.change.From, row.change.To)
		return
	}
	if p.Change != nil && *p.Change != row.change {
		c.bad(at("change"), "%s changes %s from %s to %s: write that", p.ID, row.change.Variable,
			row.change.From, row.change.To)
	}
	got := p.Require.Clone()
	if got[row.change.Variable] == row.change.From {
		delete(got, row.change.Variable)
	}
	if spell(got) != spell(row.require) {
		c.bad(at("require"), "%s requires exactly %s: write that", p.ID, spell(row.require))
	}
	c.setUpMinutes(row)
}

// spell writes a condition in the order of the variables.
func spell(c model.Condition) string {
	var out []string
	for _, v := range model.Variables {
		if c[v] != "" {
			out = append(out, string(v)+" "+c[v])
		}
	}
	if len(out) == 0 {
		return "nothing"
	}
	return strings.Join(out, ", ")
}

// setUpMinutes checks the minutes of a set-up action: the cost of every plan hangs on them.
func (c *checker) setUpMinutes(row setUp) {
	p := c.p
	if p.HandsOn != row.hands || p.Waiting != row.waiting {
		c.bad(at("handson"),
			"%s takes %s minutes of hands and %s of waiting: write handson = %s, waiting = %s",
			p.ID, plain(row.hands), plain(row.waiting), plain(row.hands), plain(row.waiting))
	}
	lid := row.hands
	if row.lidHands > 0 {
		lid = row.lidHands
	}
	hands, waiting := p.Minutes(model.NewFeatureSet("changer", "lid-changer"), nil)
	if p.HandsOn == row.hands && (hands != lid || waiting != row.waiting) {
		c.bad(at("minutes_for"),
			"with lid-changer %s takes %s minutes of hands: write [[minutes_for]] with only = [\"lid-changer\"], handson = %s",
			p.ID, plain(lid), plain(lid))
	}
}
