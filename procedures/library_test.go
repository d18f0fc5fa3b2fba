package procedures

import (
	"maps"
	"regexp"
	"slices"
	"strings"
	"testing"

	"bench/oilcan/model"
)

// checkLibrary reads the built-in library again by every rule, and gives all its problems.
func checkLibrary() (*Library, []Problem) {
	l, problems := libraryOf(readEmbedded(true))
	return l, sorted(append(problems, l.CheckAll()...))
}

// second gives the problems of a list that was read.
func second[T any](_ T, problems []Problem) []Problem { return problems }

// TestLibraryIsClean reads every built-in file by every rule and lists all problems.
func TestLibraryIsClean(t *testing.T) {
	l, problems := checkLibrary()
	for _, p := range problems {
		t.Error(p)
	}
	t.Logf("%d procedures, %d set-up actions", len(l.All()), len(l.SetUps()))
}

// TestShortNamesTellGaugesApart: two gauges of one name could not be told apart on a bench.
func TestShortNamesTellGaugesApart(t *testing.T) {
	lib, _ := Load("")
	by := map[string]string{}
	for _, p := range lib.All() {
		if p.Short == "" && p.Kind != model.Bookend {
			t.Errorf("%s has no short name for its gauge", p.ID)
		}
		if other := by[p.Called()]; other != "" {
			t.Errorf("%s and %s are both called %q", other, p.ID, p.Called())
		}
		by[p.Called()] = p.ID
	}
}

// TestCarbonRodsOnBallsMeetNoOil: where none is put on, none is wiped off, carried out or warned
// of.
func TestCarbonRodsOnBallsMeetNoOil(t *testing.T) {
	lib, _ := Load("")
	for _, bush := range []model.Feature{"bush-ball", "bush-sintered"} {
		p := lib.Get("rods-wipe").For(model.NewFeatureSet("rods-carbon", bush), nil)
		for _, s := range p.Steps {
			if strings.Contains(s.Do+s.Line, "oily") {
				t.Errorf("%s: %s", bush, s.Do)
			}
		}
		for _, c := range p.Cautions {
			if c.ID == "heap" || c.ID == "oil" {
				t.Errorf("%s: the caution %s stands where nothing is wet", bush, c.ID)
			}
		}
	}
}

// CheckAll gives the problems of every procedure of the library. A circle in the order is told
// once.
func (l *Library) CheckAll() []Problem {
	l.ensure()
	ids := slices.Sorted(maps.Keys(l.byID))
	var problems []Problem
	circles := map[string]bool{}
	for _, id := range ids {
		for _, p := range l.Check(l.byID[id]) {
			if strings.HasPrefix(p.Text, "the order goes round") {
				if circles[p.Text] {
					continue
				}
				circles[p.Text] = true
			}
			problems = append(problems, p)
		}
	}
	return sorted(problems)
}

// TestWhatIsUsedIsLaidOut: a thing that a step reads or looks with is on the list, or it is missed
// with the machine open.
func TestWhatIsUsedIsLaidOut(t *testing.T) {
	lib, _ := Load("")
	for _, p := range slices.Concat(lib.All(), lib.SetUps()) {
		for _, s := range p.Steps {
			text := strings.ToLower(s.Do + " " + s.Line)
			for _, name := range []string{"torch", "contact probe", "magnifier", "hygrometer",
				"multimeter", "calliper", "tweezers", "stopwatch"} {
				laid := func(tool model.Tool) bool { return tool.Name == name }
				if regexp.MustCompile(`\b`+name+`\b`).MatchString(text) &&
					!slices.ContainsFunc(p.Tools, laid) {
					t.Errorf("%s/%s uses the %s, and %s lays none out", p.ID, s.Name, name, p.ID)
				}
			}
		}
	}
}
