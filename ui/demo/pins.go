package demo

import (
	"time"

	"bench/oilcan/model"
)

// pin chooses, for each pinned gauge, when its procedure was last done.
func (k *keeper) pin() {
	for _, p := range k.profile.pinned {
		for _, id := range p.ids {
			proc := k.proc(id)
			if proc == nil {
				continue
			}
			band, ok := k.band(proc, p.meter)
			if !ok {
				continue
			}
			at, ok := k.when(p, band)
			if days, is := k.band(proc, model.Days); ok && is && p.meter != model.Days {
				ok = at.After(k.cal.back(0.9 * days.Low)) // or the calendar would govern
			}
			if ok {
				k.pins[id] = at
				break
			}
		}
	}
	for _, id := range k.unknown {
		if k.proc(id) != nil {
			k.pins[id] = k.out[0].At // never done here
		}
	}
}

// band is the procedure's band in a meter on this machine.
func (k *keeper) band(p *model.Procedure, meter model.Meter) (model.Band, bool) {
	for _, iv := range p.Intervals {
		if iv.Meter != meter || iv.When != nil || iv.Once ||
			!iv.Only.OnMachine(model.NewFeatureSet(k.m.Features...), nil) {
			continue
		}
		if meter == model.Days && k.duty == model.Production && iv.Production != nil {
			return *iv.Production, true
		}
		return model.Band{Low: iv.Low, High: iv.High}, true
	}
	return model.Band{}, false
}

// when is the time since which a pinned gauge has used what it shall have used.
func (k *keeper) when(p pin, b model.Band) (time.Time, bool) {
	used := b.Low * p.share
	switch {
	case p.share >= 2:
		used = b.High * (p.share - 1)
	case p.share >= 1:
		used = b.Low + (b.High-b.Low)*(p.share-1)
	}
	earliest := k.out[0].At.Add(24 * time.Hour)
	if p.meter == model.Days {
		at := k.cal.back(used).Truncate(time.Minute)
		return at, at.After(earliest)
	}
	end := k.use.at(p.meter, k.lastReading())
	for at := k.lastReading(); at.After(earliest); at = at.Add(-time.Hour) {
		if end-k.use.at(p.meter, at) >= used {
			return at, true
		}
	}
	return time.Time{}, false
}

// pinned does what is pinned for the last time, with the counters read.
func (k *keeper) pinned(add func(time.Time, func(time.Time))) {
	never := map[string]bool{}
	for _, id := range k.unknown {
		never[id] = true
	}
	for _, p := range k.procs {
		at, is := k.pins[p.ID]
		if !is || never[p.ID] {
			continue
		}
		add(at, func(at time.Time) {
			k.read(at, "session")
			minutes := max(p.HandsOn, 0.5)
			facts := []model.Fact{{Kind: model.KindCare,
				Care: &model.CareDone{Procedure: p.ID, Outcome: model.OutcomeDone,
					CountsAs: k.counts(p), Minutes: minutes}}}
			if p.Kind == model.Swap && p.Part != "" {
				s := &model.Swapped{Part: p.Part, End: model.EndWorn, Resets: []string{p.ID}}
				facts = append(facts, model.Fact{Kind: model.KindSwap, Swap: s}, taken(p.Part, 1))
			}
			k.fact(at, facts...)
		})
	}
}

// tellUnknown says at the start what nobody knows.
func (k *keeper) tellUnknown() {
	var facts []model.Fact
	for _, id := range k.unknown {
		if k.proc(id) != nil {
			facts = append(facts,
				model.Fact{Kind: model.KindCare,
					Care: &model.CareDone{Procedure: id, Outcome: model.OutcomeUnknown,
						Memory: true}})
		}
	}
	k.fact(k.out[0].At.Add(time.Minute), facts...)
}

// stories books what was found by hand.
func (k *keeper) stories(add func(time.Time, func(time.Time))) {
	for _, s := range k.profile.stories {
		add(k.cal.back(s.ago), func(at time.Time) {
			f := &model.Found{Kind: s.kind, Text: s.text, Part: s.part,
				Again: k.cal.back(-s.days).Truncate(time.Hour)}
			for _, id := range s.proc {
				if k.proc(id) != nil {
					f.Procedure = id
					break
				}
			}
			facts := []model.Fact{{Kind: model.KindFinding, Finding: f}}
			if s.due && f.Procedure != "" {
				facts = append(facts,
					model.Fact{Kind: model.KindDue,
						Due: &model.FallsDue{Procedure: f.Procedure, Because: s.text}})
			}
			if s.tag != "" {
				facts = append(facts,
					model.Fact{Kind: model.KindTag, Tag: &model.TagMove{Kind: s.tag, Why: s.text}})
			}
			k.fact(at, facts...)
		})
	}
}
