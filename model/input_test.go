package model

import (
	"errors"
	"math"
	"strings"
	"testing"
)

func TestCheckReading(t *testing.T) {
	j := &journal{}
	j.on(0, fMachine("Anvil"))
	j.on(0, fRead(Hours, 100), fRead(Changes, 1000))
	j.on(10, fRead(Hours, 200), fRead(Changes, 2000))
	m := j.bench(t).Machines["m"]
	j2 := &journal{}
	j2.on(0, fMachine("Anvil"))
	j2.on(0, fRead(Hours, 100), fRead(Changes, 1000))
	j2.on(10, Fact{Kind: KindPrinted,
		Printed: &PrintJob{File: "a.gcode", Need: map[Meter]float64{Hours: 9}}}, fRead(Hours, 109))
	j.on(11, fRead(Hours, 0, isNew))
	replaced := j.bench(t).Machines["m"]

	printed := j2.bench(t).Machines["m"]

	cases := []struct {
		name  string
		m     *Machine
		meter Meter
		value float64
		day   float64
		want  string // part of the sentence; "" for right
	}{
		{"grown as it can", m, Hours, 220, 11, ""},
		{"the same again", m, Hours, 200, 12, ""},
		{"below the last", m, Hours, 150, 12, "below the last reading, 200"},
		{"below what a print brought it to", printed, Hours, 108, 12,
			"hours 108 is below 109, to which the print recorded on"},
		{"below the last one read, after a print", printed, Changes, 900, 12,
			"below the last reading, 1 000"},
		{"over 24 hours a day", m, Hours, 230, 11, "over 24 hours a day"},
		{"a whole day and its rounding", m, Hours, 225, 11, ""},
		{"over 60 changes an hour", m, Changes, 3500, 11, "over 60 an hour"},
		{"60 changes an hour", m, Changes, 3440, 11, ""},
		{"tomorrow", m, Hours, 201, 21, "future"},
		{"late and between", m, Hours, 150, 5, ""},
		{"late and above the later one", m, Hours, 201, 9, "above the later reading, 200"},
		{"late and below the earlier one", m, Hours, 99, 5, "below the last reading, 100"},
		{"before the first of all", m, Hours, 50, -5, ""},
		{"a meter never read", m, Starts, 4000, 12, ""},
		{"after the counter was replaced", replaced, Hours, 20, 12, ""},
		{"late, and the counter was replaced since", replaced, Hours, 150, 5, ""},
		{"too much after it was replaced", replaced, Hours, 90, 12, "over 24 hours a day"},
		{"cuts are never typed", m, Cuts, 1, 12, "type changes and starts"},
		{"nor is the calendar", m, Days, 1, 12, "no meter that can be typed"},
		{"no number", m, Hours, math.NaN(), 12, "must be a number"},
		{"below nothing", m, Hours, -1, 12, "must be a number"},
		{"endless", m, Hours, math.Inf(1), 12, "must be a number"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			err := CheckReading(c.m, c.meter, c.value, onDay(c.day), onDay(20))
			checkSentence(t, err, c.want)
		})
	}
}

// checkSentence requires an error that says so in one line, or none.
func checkSentence(t *testing.T, err error, want string) {
	t.Helper()
	switch {
	case want == "" && err != nil:
		t.Errorf("refused: %v", err)
	case want != "" && err == nil:
		t.Errorf("taken, want %q", want)
	case want != "" && (!strings.Contains(err.Error(), want) ||
		strings.Contains(err.Error(), "\n")):
		t.Errorf("%q does not say %q", err, want)
	}
}

func benchOf(names ...string) *Bench {
	b := NewBench()
	for i, n := range names {
		id := string(rune('a' + i))
		name, retired := strings.CutPrefix(n, "x:")
		b.Machines[id] = &Machine{MachineFact: MachineFact{ID: id, Name: name, Retired: retired}}
	}
	return b
}

func TestCheckName(t *testing.T) {
	b := benchOf("Anvil", "Brass Nº 2", "x:Old one")
	cases := []struct {
		name, give, except, want string
	}{
		{"free", "Copper", "", ""},
		{"wide characters", "工房の三号機", "", ""},
		{"forty characters", strings.Repeat("é", 40), "", ""},
		{"forty-one", strings.Repeat("é", 41), "", "at most 40"},
		{"empty", "", "", "needs a name"},
		{"blank", " \t", "", "needs a name"},
		{"taken", "anvil", "", `already called "Anvil"`},
		{"its own", "ANVIL", "a", ""},
		{"that of a retired one", "old ONE", "", "retired machine"},
		{"a control character", "An\x1b[31mvil", "", "cannot be shown"},
		{"a line break", "An\nvil", "", "cannot be shown"},
		{"a change of direction", "An\u202evil", "", "cannot be shown"},
		{"broken text", "An\xffvil", "", "cannot be shown"},
		{"blank at the end", "Anvil 2 ", "", "begins or ends"},
		{"like an option", "--all", "", "begins with a dash"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			checkSentence(t, CheckName(b, c.give, c.except), c.want)
		})
	}
}

func TestFindMachine(t *testing.T) {
	b := benchOf("Anvil", "Anvil two", "Brass", "x:Bronze", "x:Copper")
	cases := []struct {
		name, give, found, want string
	}{
		{"whole name", "Anvil", "a", ""},
		{"capitals do not matter", "aNVIL", "a", ""},
		{"a beginning", "anvil t", "b", ""},
		{"one that is in use goes before a retired one", "br", "c", ""},
		{"a retired one where no other fits", "copp", "e", ""},
		{"an id", "c", "c", ""},
		{"ambiguous", "an", "", `"an" may be Anvil, Anvil two`},
		{"unknown", "zinc", "", "there are Anvil, Anvil two, Brass"},
		{"nothing given", "", "", "there are Anvil"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			m, err := FindMachine(b, c.give)
			checkSentence(t, err, c.want)
			if c.want == "" && m.ID != c.found {
				t.Errorf("found %s", m.ID)
			}
		})
	}
	_, err := FindMachine(NewBench(), "Anvil")
	checkSentence(t, err, "there is none yet")
	if !errors.Is(err, ErrNoMachineYet) {
		t.Error("nobody can tell that there is none")
	}
}
