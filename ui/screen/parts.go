package screen

import (
	"bench/oilcan/model"
	"bench/oilcan/model/life"
)

// Ends are the letters that say how an old part was, in a session as in the quick log.
var Ends = []struct {
	Key  string
	End  model.End
	Says string
}{
	{"w", model.EndWorn, "worn"}, {"s", model.EndEarly, "sound"}, {"f", model.EndFailed, "failed"},
	{"x", model.EndLost, "lost"}, {"d", model.EndUnknown, "don't know"},
}

// PartLife is how long a part lasts, by the lives of it on the whole bench.
type PartLife struct {
	part     string
	Band     life.PartBand
	Observed []life.Observed
	Life     life.Lifetime
}

// LivesOn tells of every part of a machine how long it lasts.
func LivesOn(d *Data, procs []*model.Procedure, machine string) map[string]*PartLife {
	m := d.Machine(machine)
	if m == nil {
		return nil
	}
	ms := d.Bench.ByID()
	out := map[string]*PartLife{}
	for part := range m.Parts {
		band, ok := life.BandOf(m, procs, part)
		if !ok {
			continue
		}
		p := &PartLife{part: part, Band: band, Observed: life.Observe(ms, part, band.Meter, d.At)}
		p.Life = life.NewLifetime(p.Observed, band.Band)
		out[part] = p
	}
	return out
}

// Short is a part's life in half a sentence, beside since when it is in.
func (p *PartLife) Short() string {
	unit := p.Band.Meter.Unit()
	half := model.Number(float64(int(p.Life.Life.Life(0.5) + 0.5)))
	if p.Life.Ends == 0 { // what still lasts tells less than the rule
		return "Rule of thumb " + model.Number(p.Band.Low) + "–" + model.Number(p.Band.High) + " " +
			unit
	}
	return "Median life " + half + " " + unit + ", by " + string(p.Life.By)
}
