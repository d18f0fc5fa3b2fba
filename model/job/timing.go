package job

import (
	"math"
	"time"

	"bench/oilcan/model"
)

// Timing is what a print of a machine takes beside what its file says: the start routine with its
// heating, a factor on movement, and a filament change by the changer. It is what the machine's
// settings say, mended by prints whose time was told.
//
// Learning is a linear regression with what is believed beforehand: took - waits = start + cruise ·
// (movement at the speeds asked for) + ramps · (the rest of it: speeding up, slowing down) + change
// · changes. The belief is normal, about the settings, or about what is common (from memory) where
// they are silent; the time of one print errs by 4 % (from memory). What a machine's accelerations
// are shows in the second factor, so that prints of large and of small parts can be told apart.
type Timing struct {
	Start, Change time.Duration // 0: not known
	// factors on what movement takes at the speeds asked for, and on the rest
	Cruise, Ramps float64
	Prints        int // it was learned from

	spread matrix // covariance of start, cruise, ramps and change, in s
}

// common is what is believed where nothing is on record, with its standard deviation (from memory):
// of the start in s, of the two factors, of a change in s.
var common = [terms]struct{ mean, sd float64 }{{300, 200}, {1.02, 0.08}, {1.5, 1}, {60, 45}}

const terms = 4

type (
	row    [terms]float64
	matrix [terms]row
)

// termsOf are what the terms are multiplied with, for movement, cruise and changes.
func termsOf(moving, cruise, changes float64) row {
	return row{1, cruise, max(0, moving-cruise), changes}
}

const (
	saidError  = 0.15 // standard deviation of what a setting says, as a share of it
	printError = 0.04 // of a print's time, as a share of it
	leastError = 30   // s, of the same
)

// Learn gives the timing of a machine.
func Learn(m *model.Machine) Timing {
	said := row{60 * m.PrintSetting(model.StartTime), 0, 0, m.PrintSetting(model.ChangeTime)}
	t := Timing{Start: seconds(said[0]), Change: seconds(said[3]), Cruise: 1, Ramps: 1}
	var a matrix // precision of the belief, and what it is about times that
	var b row
	for i, c := range common {
		if said[i] > 0 {
			c.mean, c.sd = said[i], saidError*said[i]
		}
		a[i][i] = 1 / (c.sd * c.sd)
		b[i] = c.mean * a[i][i]
	}
	for _, p := range m.Times {
		if p.Limits != m.PrintLimits() || !(p.Took > 0) {
			continue
		}
		t.Prints++
		sd := max(printError*p.Took, leastError)
		x := termsOf(p.Moving, p.Cruise, p.Changes)
		for i := range x {
			b[i] += x[i] * (p.Took - p.Waiting) / (sd * sd)
			for k := range x {
				a[i][k] += x[i] * x[k] / (sd * sd)
			}
		}
	}
	if t.Prints == 0 {
		return t
	}
	t.spread = inverse(a)
	var best row
	for i := range best {
		for k := range b {
			best[i] += t.spread[i][k] * b[k]
		}
	}
	t.Start, t.Change = seconds(max(0, best[0])), seconds(max(0, best[3]))
	t.Cruise, t.Ramps = max(0.2, best[1]), max(0, best[2])
	return t
}

func seconds(s float64) time.Duration { return time.Duration(s * float64(time.Second)) }

// inverse is that of a positive definite matrix, by elimination.
func inverse(a matrix) (out matrix) {
	for i := range out {
		out[i][i] = 1
	}
	for i := range a {
		per := 1 / a[i][i]
		for k := range a {
			a[i][k], out[i][k] = a[i][k]*per, out[i][k]*per
		}
		for r := range a {
			f := a[r][i]
			for k := 0; r != i && k < terms; k++ {
				a[r][k], out[r][k] = a[r][k]-f*a[i][k], out[r][k]-f*out[i][k]
			}
		}
	}
	return out
}

// within is the standard score that holds 80 % of a normal distribution.
const within = 1.2816

// Retime puts what is known of a machine's times into a report read with time. It is done once.
func (r *Report) Retime(t Timing) {
	old := r.Total()
	changing := t.Change * time.Duration(r.ToolChanges)
	x := termsOf(r.Moving.Seconds(), r.Cruise.Seconds(), float64(r.ToolChanges))
	r.Moving = seconds(t.Cruise*min(x[1], r.Moving.Seconds()) + t.Ramps*x[2])
	if t.Start > 0 && r.Moves > 0 {
		r.Waits.Heating = t.Start
	}
	if changing > 0 {
		r.Waits.Changing = changing
	}
	if t.Prints > 0 {
		r.Timed = t.Prints
		sd := max(printError*r.Total().Seconds(), leastError)
		sum := sd * sd
		for i := range x {
			for k := range x {
				sum += x[i] * t.spread[i][k] * x[k]
			}
		}
		r.Spread = seconds(within * math.Sqrt(sum))
	}
	r.stretch(old)
}

// stretch moves what was reckoned within the old total to where it is in the new one.
func (r *Report) stretch(old time.Duration) {
	if old <= 0 || old == r.Total() {
		return
	}
	share := float64(r.Total()-r.Waits.Heating) / float64(old)
	whole := float64(r.Total()) / float64(old)
	for i := range r.Filament {
		r.Filament[i].Time = time.Duration(float64(r.Filament[i].Time) * whole)
	}
	for _, marks := range [][]Mark{r.Marks, r.LayerMarks} {
		for i := range marks {
			marks[i].At = r.Waits.Heating + time.Duration(float64(marks[i].At)*share)
		}
	}
	for i := range r.Held {
		r.Held[i].Time = time.Duration(float64(r.Held[i].Time) * whole)
	}
}
