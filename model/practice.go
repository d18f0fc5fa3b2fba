package model

import (
	"slices"
	"time"
)

// maxPracticed is how many blocks a machine's snapshot keeps of one operator, the latest.
const maxPracticed = 160

// Practice is what one operator has walked: by what was shown, and when cautions stood in full.
type Practice struct {
	Shown map[string]Walks     `json:"shown,omitempty"`
	Whole map[string]time.Time `json:"whole,omitempty"` // caution id -> when it last stood in full
}

// Walks counts how often something was walked with every step by itself, and when it was last
// walked at all.
type Walks struct {
	Steps int       `json:"steps,omitempty"`
	Last  time.Time `json:"last"`
}

// practise takes what a session says was walked.
func (m *Machine) practise(e Entry) {
	for _, x := range e.Closed.Practice {
		p := m.Practice[x.By]
		if p == nil {
			p = &Practice{}
			if m.Practice == nil {
				m.Practice = map[string]*Practice{}
			}
			m.Practice[x.By] = p
		}
		p.take(x, e.At)
	}
}

func (p *Practice) take(x Practised, at time.Time) {
	if p.Shown == nil {
		p.Shown, p.Whole = map[string]Walks{}, map[string]time.Time{}
	}
	for _, id := range x.Whole {
		p.Whole[id] = at
	}
	if x.Shown == "" {
		return
	}
	n := p.Shown[x.Shown].Steps
	if !x.Pages {
		n++
	}
	p.Shown[x.Shown] = Walks{Steps: n, Last: at}
	for len(p.Shown) > maxPracticed {
		p.forget()
	}
}

// forget drops what was walked longest ago.
func (p *Practice) forget() {
	oldest := ""
	for k, w := range p.Shown {
		if o := p.Shown[oldest]; oldest == "" || w.Last.Before(o.Last) || w.Last.Equal(o.Last) &&
			k < oldest {
			oldest = k
		}
	}
	delete(p.Shown, oldest)
}

// PracticeOf is what an operator has walked on all machines of the bench: the same text with the
// same rows is the same work on any of them.
func (b *Bench) PracticeOf(by string) Practice {
	out := Practice{Shown: map[string]Walks{}, Whole: map[string]time.Time{}}
	for _, m := range b.Machines {
		p := m.Practice[by]
		if p == nil {
			continue
		}
		for k, w := range p.Shown {
			o := out.Shown[k]
			out.Shown[k] = Walks{Steps: o.Steps + w.Steps, Last: later(o.Last, w.Last)}
		}
		for id, at := range p.Whole {
			out.Whole[id] = later(out.Whole[id], at)
		}
	}
	return out
}

func later(a, b time.Time) time.Time { return slices.MaxFunc([]time.Time{a, b}, time.Time.Compare) }
