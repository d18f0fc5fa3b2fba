package screen

import (
	"testing"

	"bench/oilcan/model"
)

func TestClearTag(t *testing.T) {
	d := plainDesk(t).on("teal").keys("enter", "5", "ctrl+s")
	d.shows("is needed")
	d.keys("nozzle changed", "enter", "ctrl+u", "ctrl+s")
	d.shows("A name is needed")
	d.keys("Bea", "ctrl+s")
	d.shows("The tag is cleared.")
	if m := d.machine("m2"); m.Tag != nil || len(m.Findings) != 0 {
		t.Errorf("left: tag %+v, findings %+v", m.Tag, m.Findings)
	}
	d.keys("5") // no tag, no key
	d.hides("clear the tag")
}

// TestUnlockingNeedsTheName: power returns to a stopped machine only once its name is typed, from its page
// and from its findings alike.
func TestUnlockingNeedsTheName(t *testing.T) {
	for _, c := range []struct {
		name string
		keys []string
	}{
		{"tag", []string{"enter", "5"}},
		{"finding", []string{"f", "down", "enter"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			d := plainDesk(t)
			_, err := d.s.Append(model.Action{Machine: "m2", Facts: []model.Fact{
				{Kind: model.KindTag, Tag: &model.TagMove{Kind: "stopped", Why: "smoke"}},
				{Kind: model.KindFinding, Finding: &model.Found{Kind: "stop", Text: "smoke"}}}})
			if err != nil {
				t.Fatal(err)
			}
			d.run(d.r.poll(true))
			d.on("teal").keys(c.keys...).keys("new supply", "ctrl+s")
			d.shows("That is not its name: type Teal")
			d.keys("teal", "ctrl+s")
			if d.machine("m2").Tag == nil {
				t.Fatal("unlocked by another name")
			}
			d.keys("ctrl+u", "Teal", "ctrl+s")
			if m := d.machine("m2"); m.Tag != nil || len(m.Findings) != 1 {
				t.Errorf("left: tag %+v, findings %+v", m.Tag, m.Findings)
			}
		})
	}
}

func TestGivenUpStays(t *testing.T) {
	d := plainDesk(t)
	_, err := d.s.Append(model.Action{Machine: "m2", Facts: []model.Fact{{Kind: model.KindTag, Tag: &model.TagMove{Kind: "given-up", Why: "no time"}}}})
	if err != nil {
		t.Fatal(err)
	}
	d.run(d.r.poll(true))
	d.on("teal").keys("enter")
	d.hides("clear tag")
	d.keys("5")
	d.shows("session given up")
}
