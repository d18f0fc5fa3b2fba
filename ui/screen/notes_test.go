package screen

import (
	"strings"
	"testing"

	"github.com/charmbracelet/x/exp/golden"

	"bench/oilcan/model"
	"bench/oilcan/ui/theme"
)

// startNotes are what a start may have to say of the operator's own files.
var startNotes = []string{
	"config.toml:3: theme cannot be that: write theme = \"dark\" or theme = \"light\"; the defaults are used",
	"spool-holder.toml is left out: line 21, unknown tool \"hex key 3\": write \"hex key 3 mm\"; 2 more in it: oilcan procedures check",
}

// TestBenchNamesFilesLeftOut: a start says on the bench which of the operator's files it goes on without.
func TestBenchNamesFilesLeftOut(t *testing.T) {
	for _, x := range []struct {
		name string
		fill bool
		size rect
	}{{"bench", true, rect{80, 24}}, {"bench", true, rect{120, 40}}, {"empty", false, rect{80, 24}}} {
		t.Run(x.name+"-"+itoa(x.size.w)+"x"+itoa(x.size.h), func(t *testing.T) {
			d := newDesk(t, x.size.w, x.size.h, x.fill, theme.Options{Dark: true, NoColour: true})
			d.hides("files")
			d.r.env.Notes = startNotes
			d.run(d.r.poll(true))
			d.shows("files", "theme cannot be that", "spool-holder.toml is left out: line 21")
			golden.RequireEqual(t, d.view())
			d.fits(everySize...)
		})
	}
}

// TestOwnFilesSayYours: an own file in place of a built-in says so where it is listed and planned.
func TestOwnFilesSayYours(t *testing.T) {
	lib := library()
	own := *lib[0]
	own.Yours = true
	d := newDesk(t, 120, 40, true, theme.Options{Dark: true, NoColour: true})
	d.r.env.Library = append(shelf{&own}, lib[1:]...)
	d.run(d.r.poll(true))
	d.keys("enter")
	d.shows("belts reset (yours)")
	if other := lib[1].Title; strings.Contains(d.view(), other+" (yours)") {
		t.Errorf("%s is not an own file", other)
	}
	if g := d.r.data.Gauges["m1"]; !hasTitle(g, own.Title+" (yours)") {
		t.Errorf("%+v", g)
	}
}

func hasTitle(gs []model.Gauge, title string) bool {
	for _, g := range gs {
		if g.Title == title {
			return true
		}
	}
	return false
}
