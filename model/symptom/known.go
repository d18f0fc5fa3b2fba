package symptom

import (
	"fmt"
	"strings"
	"time"

	"bench/oilcan/model"
)

// What the journal knows of a care's subject, as likelihood ratios of its being the cause (from
// memory).
const (
	// care done says something of its own for so long; after that only its gauge does
	lately = 14 * 24 * time.Hour
	// done whole and nothing left open, or the part renewed: the cause is there all the same
	missed = 0.1
	// a look or a proof found it good: so often it misses the cause
	overlooked = 0.2
	unsure     = 0.5 // done, but told from memory, or its proof still owed
	standing   = 4.0 // a finding is open on it
)

// known takes what the journal knows of the care's subject: a finding open on it makes it likelier,
// care done lately and found good much less likely. What was good yesterday says most; its word
// fades within a fortnight with the square of the time, for what was put right stays so at first.
func (c Case) known(l *Line, p *model.Procedure, look *model.Procedure) {
	if c.Machine == nil {
		return
	}
	if f := c.open(p, look); f != nil {
		l.Score *= standing
		l.Reasons = append(l.Reasons, "open since "+f.At.In(c.Now.Location()).Format("2006-01-02")+
			": "+strings.TrimSuffix(f.Text, "."))
		return
	}
	factor, why := c.foundGood(p, p.Kind == model.Look || p.Kind == model.Proof)
	if look != nil {
		if f, w := c.foundGood(look, true); f < factor {
			factor, why = f, w
		}
	}
	if factor < 1 {
		l.Score *= factor
		l.Reasons = append(l.Reasons, why)
	}
}

// foundGood is how much less likely a procedure done lately makes its cause, and why; 1 where it
// was not done lately. looked tells that it only looks: what it saw was good, or there would be a
// finding.
func (c Case) foundGood(p *model.Procedure, looked bool) (factor float64, why string) {
	last := c.Machine.Care[p.ID]
	if last == nil || !last.Known || last.At.After(c.Now) || c.Now.Sub(last.At) >= lately {
		return 1, ""
	}
	when := daysAgo(last.At, c.Now)
	miss, say := missed, "done "+when+" and nothing left open"
	part := c.Machine.Parts[p.Part]
	switch {
	case last.Memory || last.ProofOwed || c.proofOwed(p.ID):
		miss, say = unsure, "done "+when+", but not proved"
		if last.Memory {
			say = "done " + when + ", by memory"
		}
	case looked:
		miss, say = overlooked, "found good "+when
	case p.Kind == model.Swap && part != nil && !part.Since.Before(last.At):
		say = "renewed " + when
	}
	share := float64(c.Now.Sub(last.At)) / float64(lately)
	factor = miss + (1-miss)*share*share
	if factor < 0.4 {
		return factor, say + ", so little likely"
	}
	return factor, say + ", so less likely"
}

// open gives the finding that stands on a care's subject, nil where there is none. A finding that
// names a part to renew stands on the care that renews it, where the machine has such; any other on
// the care, or its look, that filed it. What is only owed or lost says nothing of wear.
func (c Case) open(p *model.Procedure, look *model.Procedure) *model.Finding {
	for i := len(c.Machine.Findings) - 1; i >= 0; i-- {
		f := &c.Machine.Findings[i]
		if f.Kind == model.FoundOwed || f.Kind == model.FoundLost || f.Kind == model.FoundUnknown {
			continue
		}
		if r := c.renews(f.Part); r != nil {
			if r.ID == p.ID {
				return f
			}
			continue
		}
		if f.Procedure != "" && (f.Procedure == p.ID || look != nil && f.Procedure == look.ID) {
			return f
		}
	}
	return nil
}

// renews is the procedure that renews a part on this machine, nil where none does.
func (c Case) renews(part string) *model.Procedure {
	for _, p := range c.Procs {
		if part != "" && p.Kind == model.Swap && p.Part == part && c.fits(p.Needs, p.NeedsAny) {
			return p
		}
	}
	return nil
}

// proofOwed tells whether a proof of the care still stands open.
func (c Case) proofOwed(id string) bool {
	for _, f := range c.Machine.Findings {
		if f.Kind == model.FoundOwed && f.Procedure == id {
			return true
		}
	}
	return false
}

// doneWithin tells whether care was done within a time before now.
func (c Case) doneWithin(id string, span time.Duration) bool {
	if c.Machine == nil {
		return false
	}
	last := c.Machine.Care[id]
	return last != nil && last.Known && !last.At.After(c.Now) && c.Now.Sub(last.At) <= span
}

// daysAgo is a time past in whole days.
func daysAgo(at, now time.Time) string {
	switch d := int(model.DaysBetween(at, now, now)); d {
	case 0:
		return "today"
	case 1:
		return "yesterday"
	default:
		return fmt.Sprintf("%d d ago", d)
	}
}
