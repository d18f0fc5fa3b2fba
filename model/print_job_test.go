package model

import "testing"

// TestBookings: a print done takes its booking off, striking it puts the booking back, and striking
// a booking takes it back.
func TestBookings(t *testing.T) {
	book := func(file string, changes float64) Fact {
		return Fact{Kind: KindBooked,
			Booked: &PrintJob{File: file, Need: map[Meter]float64{Changes: changes, Hours: 2}}}
	}
	j := &journal{}
	j.on(0, fMachine("Anvil"))
	j.on(1, book("a.gcode", 100))
	j.on(2, book("b.gcode", 50))
	first := j.entries[1].ID
	if got := Fold(j.entries).Machines["m"].BookedUse(); got[Changes] != 150 || got[Hours] != 4 {
		t.Errorf("booked are %v", got)
	}
	j.on(3, Fact{Kind: KindPrinted, Printed: &PrintJob{File: "a.gcode", Booking: first}},
		fRead(Changes, 100))
	m := Fold(j.entries).Machines["m"]
	if len(m.Booked) != 1 || m.Booked[0].File != "b.gcode" ||
		m.Readings[Changes].Last.Value != 100 {
		t.Errorf("after the print %+v", m.Booked)
	}
	j.on(4, fStrike(j.entries[3].Action))
	if m := Fold(j.entries).Machines["m"]; len(m.Booked) != 2 || m.Readings[Changes] != nil {
		t.Errorf("after its strike %+v", m.Booked)
	}
	j.on(5, fStrike(j.entries[2].Action))
	if got := Fold(j.entries).Machines["m"].BookedUse(); got[Changes] != 100 {
		t.Errorf("booked are %v", got)
	}
}
