package procedures

import (
	_ "embed"
	"sync"

	"bench/oilcan/model"
)

//go:embed materials.toml
var materialFile []byte

// materialList is the built-in list, read at the first question for it.
var materialList = sync.OnceValue(func() []model.Material {
	list, _ := parseMaterials("materials.toml", materialFile, false)
	return list
})

// Materials gives the polymers in the order of the file. The list must not be changed.
func Materials() []model.Material { return materialList() }

// parseMaterials reads a list of materials and checks it.
func parseMaterials(name string, data []byte, full bool) ([]model.Material, []Problem) {
	out, _, problems, _ := readFile(name, data, full, (*reader).materials)
	return out, problems
}

func (r *reader) materials(t *table) []model.Material {
	var out []model.Material
	seen := map[string]bool{}
	t.each("material", func(q *table) {
		m := q.material()
		for _, name := range append([]string{m.ID}, m.Also...) {
			if other := model.FindMaterial(out, name); other != nil {
				r.bad(q.n, "%q is a name of %s already: leave one out", name, other.Name)
			}
		}
		if !kebab().MatchString(m.ID) || seen[m.ID] {
			r.bad(q.n, "material %q: write each id once, in small letters and hyphens", m.ID)
		}
		seen[m.ID] = true
		q.checkMaterial(m)
		out = append(out, m)
	})
	t.done()
	return out
}

func (t *table) material() model.Material {
	return model.Material{
		ID: t.need("id", `"pla"`), Name: t.need("name", `"PLA"`), Also: t.texts("also"),
		Dry: t.span("dry"), Hours: t.span("hours"), Nozzle: t.span("nozzle"), Bed: t.span("bed"),
		Chamber: t.text("chamber"), Fume: t.need("fume", `"low"`), Note: t.text("note"),
		Banned: t.truth("banned"), Basis: t.need("basis", `"common practice"`),
		Need: t.text("moisture"), Abrasive: t.number("abrasive"), Styrenic: t.number("styrenic"),
		Humidity: t.number("humidity"),
	}
}

// span reads low and high as a list of two numbers.
func (t *table) span(key string) model.Range {
	n := t.get(key)
	if n == nil {
		return model.Range{}
	}
	number := func(n *node) bool { return n.kind == isWhole || n.kind == isReal }
	if n.kind != isList || len(n.items) != 2 || !number(n.items[0]) || !number(n.items[1]) {
		t.r.bad(n, "%q in %s is no band: write %s = [low, high]", key, t.what(), key)
		return model.Range{}
	}
	return model.Range{Low: n.items[0].num, High: n.items[1].num}
}

// Limits no band of a material lies outside; beyond them it is a slip of the pen. °C and hours.
var (
	dryLimit    = model.Range{Low: 35, High: 110}
	hoursLimit  = model.Range{Low: 1, High: 24}
	nozzleLimit = model.Range{Low: 150, High: 350}
	bedLimit    = model.Range{Low: 20, High: 130}
)

// checkMaterial checks one: what is banned gives no figure that could be followed, everything else
// gives all of them.
func (t *table) checkMaterial(m model.Material) {
	for _, b := range []struct {
		key    string
		is, in model.Range
		may    bool // may be left out
	}{
		{"dry", m.Dry, dryLimit, false}, {"hours", m.Hours, hoursLimit, false},
		{"nozzle", m.Nozzle, nozzleLimit, m.ID == "unknown"},
		{"bed", m.Bed, bedLimit, m.ID == "unknown"},
	} {
		switch {
		case m.Banned && !b.is.Zero():
			t.r.bad(t.n, "%s is banned: leave %q out, so that nobody follows it", m.ID, b.key)
		case m.Banned || b.may && b.is.Zero():
		case b.is.Low > b.is.High || b.is.Low < b.in.Low || b.is.High > b.in.High:
			t.r.bad(t.n, "%s: %s from %s to %s: write low and high between %s and %s", m.ID, b.key,
				plain(b.is.Low), plain(b.is.High), plain(b.in.Low), plain(b.in.High))
		}
	}
	for key, share := range map[string]float64{"abrasive": m.Abrasive, "styrenic": m.Styrenic} {
		if !(share >= 0 && share <= 1) {
			t.r.bad(t.n, "%s: %s = %s: write a share from 0 to 1", m.ID, key, plain(share))
		}
	}
	if m.Banned {
		return
	}
	t.r.word(t.n, "moisture need", m.Need, model.MoistureNeeds)
	if !(m.Humidity >= 5 && m.Humidity <= 50) {
		t.r.bad(t.n, "%s: humidity = %s: write the %% a roll may wait at, 5 to 50", m.ID,
			plain(m.Humidity))
	}
}
