package model

import (
	"slices"
	"time"
)

// PrintJob is one print file, and what it costs each meter.
type PrintJob struct {
	File string            `json:"file"`
	Need map[Meter]float64 `json:"need"` // meters that can be typed, each >= 0
	// of a print done: the entry id of the booking it was
	Booking string `json:"booking,omitempty"`

	// Time is of a print done: how long it took, where that was told.
	Time *PrintTime `json:"time,omitempty"`
}

// PrintTime is how long a print took by the clock, beside what its file says of it, in seconds:
// from some of them the machine's own times are learned.
type PrintTime struct {
	Took    float64 `json:"took"`              // from start to end, above 0
	Moving  float64 `json:"moving"`            // as reckoned from the file, nothing learned put in
	Cruise  float64 `json:"cruise,omitempty"`  // of it, what it takes at the speeds asked for
	Waiting float64 `json:"waiting,omitempty"` // waits that the file orders
	Changes float64 `json:"changes,omitempty"` // how many by the changer
	// what Moving was reckoned by: MachineFact.PrintLimits
	Limits string `json:"limits,omitempty"`
}

// Booking is a print to come. Its id is the entry's; striking the entry takes it back.
type Booking struct {
	ID string    `json:"id"`
	At time.Time `json:"at"` // when it was booked
	PrintJob
}

// maxBooked is how many prints to come a machine's snapshot holds; the oldest give way.
const maxBooked = 20

func (m *Machine) booked(e Entry) {
	m.Booked = append(m.Booked, Booking{ID: e.ID, At: e.At, PrintJob: *e.Booked})
	if n := len(m.Booked) - maxBooked; n > 0 {
		m.Booked = slices.Clone(m.Booked[n:])
	}
}

// maxTimes is how many of the prints whose time was told a machine's snapshot holds.
const maxTimes = 12

// printed takes a booking off; the readings beside it say what was used.
func (m *Machine) printed(at time.Time, p PrintJob) {
	m.Printed = at
	if p.Time != nil {
		m.Times = append(slices.Clone(m.Times), *p.Time)
		m.Times = m.Times[max(0, len(m.Times)-maxTimes):]
	}
	if p.Booking == "" {
		return
	}
	m.Booked = slices.DeleteFunc(slices.Clone(m.Booked), func(b Booking) bool {
		return b.ID == p.Booking
	})
	if len(m.Booked) == 0 {
		m.Booked = nil
	}
}

// Reckoned tells that a meter's last value was not read but added to by a recorded print.
func (m *Machine) Reckoned(meter Meter) bool {
	s := m.Readings[meter]
	return s != nil && s.N > 0 && !m.Printed.IsZero() && s.Last.At.Equal(m.Printed)
}

// BookedUse is what all prints to come of a machine will use, by meter; nil where none is booked.
func (m *Machine) BookedUse() map[Meter]float64 {
	var sum map[Meter]float64
	for _, b := range m.Booked {
		for meter, n := range b.Need {
			sum = with(sum, meter, sum[meter]+n)
		}
	}
	return sum
}

// PrintFailed is a print that failed, by what was seen: there is one list of words for it, the
// symptoms.
type PrintFailed struct {
	Symptom string `json:"symptom,omitempty"` // id of the symptom; "" for another reason
	Note    string `json:"note,omitempty"`    // in the person's words; there where Symptom is ""
}
