package procedures

import (
	"slices"
	"strings"

	"bench/oilcan/model"
)

// order files a circle of precedence through this file: what comes before what by rung and by
// after.
func (c *checker) order() {
	if c.isSetUp() || len(c.p.After) == 0 && !c.l.named(c.p.ID) {
		return
	}
	for _, fs := range c.l.ladderMachines() {
		if circle := c.l.circle(c.p.ID, fs); circle != nil {
			c.bad(at("after"),
				"the order goes round in a circle: %s; take one of them out of \"after\", or change a rung", strings.Join(circle, " -> "))
			return
		}
	}
}

// named tells whether a file comes after id by name.
func (l *Library) named(id string) bool {
	for _, q := range l.byID {
		if slices.Contains(q.After, id) {
			return true
		}
	}
	return false
}

// ladderMachines gives machines that differ in what rungs depend on: one with nothing known, the
// full one, and one for each feature a rung asks about.
func (l *Library) ladderMachines() []model.FeatureSet {
	out := []model.FeatureSet{{}, model.NewFeatureSet(model.FullFeatures...)}
	seen := model.FeatureSet{}
	for _, p := range l.byID {
		for _, r := range p.Rung {
			for _, f := range r.Only.Features {
				seen[f] = true
			}
		}
	}
	for _, f := range seen.List() {
		out = append(out, model.NewFeatureSet(f))
	}
	return out
}

// circle gives the shortest circle through id on a machine, beginning and ending with its smallest
// id; nil where there is none.
func (l *Library) circle(id string, fs model.FeatureSet) []string {
	var ids []string
	rung := map[string]int{}
	for _, p := range l.All() {
		ids = append(ids, p.ID)
		rung[p.ID] = p.RungOn(fs, nil).Order()
	}
	before := func(a, b string) bool {
		return a != b && slices.Contains(l.byID[b].After, a) || rung[a] >= 0 && rung[b] >= 0 &&
			rung[a] < rung[b]
	}
	from := map[string]string{}
	for queue := []string{id}; len(queue) > 0; queue = queue[1:] {
		for _, b := range ids {
			if _, seen := from[b]; seen || !before(queue[0], b) {
				continue
			}
			from[b] = queue[0]
			if b == id {
				return turned(id, from)
			}
			queue = append(queue, b)
		}
	}
	return nil
}

// turned writes a circle from its smallest id on.
func turned(id string, from map[string]string) []string {
	ring := []string{id}
	for at := from[id]; at != id; at = from[at] {
		ring = append(ring, at)
	}
	slices.Reverse(ring)
	i := slices.Index(ring, slices.Min(ring))
	ring = append(ring[i:], ring[:i]...)
	return append(ring, ring[0])
}
