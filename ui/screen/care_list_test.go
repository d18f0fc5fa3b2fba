package screen

import (
	"slices"
	"testing"

	"bench/oilcan/model"
	"bench/oilcan/ui/theme"
)

// One key keeps or lets go; what guards a person goes by word only, and the machine's page says so.
func TestCareListKeepsAndLetsGo(t *testing.T) {
	lib := append(library(), &model.Procedure{ID: "electrical-glance", Title: "Look at the mains lead", Kind: model.Look, Starter: true, Intervals: band(model.Days, 30, 40)})
	d := newDeskOf(t, lib, 80, 24, true, theme.Options{Dark: true}).on("her").keys("enter", "2")
	d.shows("Kept by all that fits it", "9 of 9 that fit it", "x belts reset")
	d.keys("1")
	if list := d.machine("m1").CareList; len(list) != 8 || slices.Contains(list, "blade-check") {
		t.Errorf("kept by %v", list)
	}
	d.keys(" ").shows(">   belts reset", "7 of 9")
	d.keys(" ").shows("x belts reset", "8 of 9")
	s := d.r.top().(*careList)
	s.at = slices.IndexFunc(s.care(), func(p *model.Procedure) bool { return p.ID == "electrical-glance" })
	d.keys(" ").shows(`Type "let go"`)
	d.keys("enter")
	if !d.machine("m1").Keeps("electrical-glance") {
		t.Error("let go without the word")
	}
	d.keys("let go", "enter")
	if d.machine("m1").Keeps("electrical-glance") {
		t.Error("kept though let go by word")
	}
	d.keys("esc").shows("not kept by electrical glance, which guards a person")
}

// The page takes every way to say when care was last done, and says at once what cannot be.
func TestLastDoneOnThePage(t *testing.T) {
	d := plainDesk(t).on("her").keys("enter", "2")
	at := func(id string) {
		s := d.r.top().(*careList)
		s.at = slices.IndexFunc(s.care(), func(p *model.Procedure) bool { return p.ID == id })
	}
	at("fans-blow")
	d.keys("enter", "1300 h", "enter").shows("the counter shows 900")
	d.keys("ctrl+u", "700 h", "enter").shows("done on 2026-08-27, later than")
	d.keys("esc")
	at("screws-oil")
	d.keys("enter", "20.10.2026", "enter")
	if c := d.machine("m1").Care["screws-oil"]; c.At.Format("2006-01-02") != "2026-10-20" {
		t.Errorf("screws-oil %+v", c)
	}
	at("blade-check-look")
	d.keys("enter", "03/04/2026", "enter").shows("can be 3 April 2026 or 4 March 2026")
}
