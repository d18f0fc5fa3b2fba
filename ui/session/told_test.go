package session

import (
	"slices"
	"strings"
	"testing"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
	"bench/oilcan/procedures"
)

// When work on paper was is read as people write it, over midnight too; what may be a slip, or
// another day, is asked.
func TestWhenWorkOnPaperWas(t *testing.T) {
	east := time.FixedZone("east", 5*60*60)
	noon := time.Date(2026, 11, 29, 12, 0, 0, 0, east)
	night := time.Date(2026, 11, 29, 0, 30, 0, 0, east)
	for _, c := range []struct {
		text     string
		now      time.Time
		from, to string // or why not
	}{
		{"yesterday 14:00 to 16:10", noon, "2026-11-28 14:00", "2026-11-28 16:10"},
		{"yesterday 23:00 to 01:00", noon, "2026-11-28 23:00", "2026-11-29 01:00"},
		{"Yesterday 23:00 TO 1:00", noon, "2026-11-28 23:00", "2026-11-29 01:00"},
		{"yesterday 23:00 to today 01:00", noon, "2026-11-28 23:00", "2026-11-29 01:00"},
		{"2026-11-28 23:00 to 2026-11-29 01:00", noon, "2026-11-28 23:00", "2026-11-29 01:00"},
		{"2026-11-20 23:00 - 01:00", noon, "2026-11-20 23:00", "2026-11-21 01:00"},
		{"2026-11-20 20:00-21:30", noon, "2026-11-20 20:00", "2026-11-20 21:30"},
		{"22:30 to 00:15", noon, "2026-11-28 22:30", "2026-11-29 00:15"},
		{"22:30 to 00:15", night, "2026-11-28 22:30", "2026-11-29 00:15"},
		{"23:00 to now", night, "2026-11-28 23:00", "2026-11-29 00:30"},
		{"9:05–11:00", noon, "2026-11-29 09:05", "2026-11-29 11:00"},
		{"23:00 to 2026-11-21 01:00", noon, "2026-11-20 23:00", "2026-11-21 01:00"},
		{"22:30 to 23:15", night, "", "23:15 has not come today: write the day too"},
		{"14:00 to 16:10", noon, "", "16:10 has not come today: write the day too"},
		{"yesterday 16:10 to 14:00", noon, "", "write the day of each"},
		{"yesterday 23:00 to today 14:00", noon, "", "in the future"},
		{"today 11:00 to 13:00", noon, "", "in the future"},
		{"tomorrow 11:00 to 13:00", noon, "", "is no date"},
		{"today 14:00 to 13:00", noon, "", "in the future"},

		{"2d 16:10 to 14:00", noon, "", "write the day of each"},
		{"11:10 to 09:00", noon, "", "write the day of each"},
		{"yesterday 14:00 to 14:00", noon, "", "cannot end"},
		{"2026-11-28 14:00 to 2026-11-27 15:00", noon, "", "cannot end"},
		{"2026-11-20 14:00 to 2026-11-22 15:00", noon, "", "more than a day"},
		{"yesterday to 16:00", noon, "", "write the times it began and ended"},
		{"yesterday 14:00", noon, "", "write the times it began and ended"},
		{"yesterday 25:00 to 26:00", noon, "", "is no date"},
		{"yesterday 14:00 to 25:00", noon, "", "is no date"},
		{"", noon, "", "is no from and to"},
	} {
		got, err := ReadThen(c.text, c.now)
		switch {
		case c.from == "" && (err == nil || !strings.Contains(err.Error(), c.to)):
			t.Errorf("%q at %s is read as %v, %v; it wants %q", c.text, c.now, got, err, c.to)
		case c.from != "" && (err != nil || model.Stamp(got.From, c.now) != c.from ||
			model.Stamp(got.To, c.now) != c.to):
			t.Errorf("%q is read as %v, %v; it is %s to %s", c.text, got, err, c.from, c.to)
		}
	}
}

// Nothing is told of a machine that was not there yet.
func TestNothingIsToldBeforeItWasBought(t *testing.T) {
	now := time.Date(2026, 11, 29, 12, 0, 0, 0, time.UTC)
	lib := procedures.Open("")
	d, m := bench(t, lib, model.MachineFact{Settings: defaults(lib, map[string]string{}),
		Bought: now.AddDate(0, 0, -2)}, &now)
	for text, want := range map[string]string{"3d 10:00 to 11:00": "was bought new on 2026-11-27",
		"2d 10:00 to 11:00": ""} {
		then, err := ReadThen(text, now)
		if err != nil {
			t.Fatal(err)
		}
		_, err = d.ChooseThen(m, Choice{Only: []string{"rods-wipe"}}, then)
		if (err == nil) != (want == "") || err != nil && !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v", text, err)
		}
	}
}

// Where nothing was due then, that is said of then.
func TestNothingWasDueThen(t *testing.T) {
	now := time.Date(2026, 11, 29, 12, 0, 0, 0, time.UTC)
	d, m := bench(t, procedures.Open(""), model.MachineFact{CareList: []string{}}, &now)
	then, err := ReadThen("yesterday 9:00 to 11:00", now)
	if err != nil {
		t.Fatal(err)
	}
	if _, err = d.ChooseThen(m, Choice{}, then); err == nil || !strings.HasPrefix(err.Error(),
		"nothing was due on Heron on 2026-11-28: name what the sheet has") {
		t.Errorf("%v", err)
	}
}

// A procedure of a session over midnight is dated by its hour alone, on either day.
func TestWhenAProcedureOfItWas(t *testing.T) {
	now := time.Date(2026, 11, 29, 12, 0, 0, 0, time.FixedZone("east", 5*60*60))
	lib := procedures.Open("")
	d, m := bench(t, lib, model.MachineFact{Settings: defaults(lib, map[string]string{})}, &now)
	then, err := ReadThen("yesterday 23:00 to 01:00", now)
	if err != nil {
		t.Fatal(err)
	}
	c, err := d.ChooseThen(m, Choice{Only: []string{"rods-wipe"}}, then)
	if err != nil {
		t.Fatal(err)
	}
	s, err := d.Begin(m, c, now)
	if err != nil {
		t.Fatal(err)
	}
	settle(t, s, now)
	for text, want := range map[string]string{"23:30": "2026-11-28 23:30", "00:30": "2026-11-29 00:30",
		"today 00:15": "2026-11-29 00:15", "01:00": "2026-11-29 01:00", "01:30": "01:30 is not within",
		"22:30": "not within", "12:00": "not within"} {
		err := s.Date(text, now)
		if got := model.Stamp(s.Dated(now), now); err == nil && got != want ||
			err != nil && !strings.Contains(err.Error(), want) {
			t.Errorf("%q is %s, %v; it is %s", text, got, err, want)
		}
	}
}

// The hour a procedure was told for holds for its other rows after the program was ended.
func TestTheHourOutlastsABreak(t *testing.T) {
	now := time.Date(2026, 11, 29, 12, 0, 0, 0, time.UTC)
	lib := procedures.Open("")
	d, m := bench(t, lib, model.MachineFact{Settings: defaults(lib, map[string]string{})}, &now)
	s := telling(t, d, m, now, "cable-check")
	tellOne(t, s, now, "leave no time")
	if err := s.Date("09:40", now); err != nil {
		t.Fatal(err)
	}
	tellOne(t, s, now, Row(s.W.Page(s.Context(now)).Rows[0].No, ""))
	again, err := d.Resume(s.W.ID, now)
	if err != nil {
		t.Fatal(err)
	}
	if got := model.Clock(again.Dated(now), now); got != "09:40" {
		t.Errorf("the next row is of %s", got)
	}
	if err := again.Date("", now); err != nil || model.Clock(again.Dated(now), now) != "11:00" {
		t.Errorf("told with the session it is of %s, %v", model.Clock(again.Dated(now), now), err)
	}
}

// telling is a session of yesterday from nine to eleven, begun to be told.
func telling(t *testing.T, d Desk, m *model.Machine, now time.Time, ids ...string) *Session {
	t.Helper()
	then, err := ReadThen("yesterday 9:00 to 11:00", now)
	if err != nil {
		t.Fatal(err)
	}
	c, err := d.ChooseThen(m, Choice{Only: ids}, then)
	if err != nil {
		t.Fatal(err)
	}
	s, err := d.Begin(m, c, now)
	if err != nil {
		t.Fatal(err)
	}
	settle(t, s, now)
	return s
}

// tellOne tells one thing.
func tellOne(t *testing.T, s *Session, now time.Time, text string) {
	t.Helper()
	v, err := s.Judge(Answer{Text: text, Meant: true}, now)
	if err == nil {
		_, err = s.Take(v.Reply, now)
	}
	if err != nil || v.Refusal != "" {
		t.Fatal(text, v.Refusal, err)
	}
}

// After a stop is told the machine is asked at once: nobody has gone away between.
func TestAStopToldAsksAtOnce(t *testing.T) {
	now := time.Date(2026, 11, 29, 12, 0, 0, 0, time.UTC)
	lib := procedures.Open("")
	d, m := bench(t, lib, model.MachineFact{Settings: defaults(lib, map[string]string{})}, &now)
	s := telling(t, d, m, now, "cable-check")
	tellOne(t, s, now, "leave no time")
	tellOne(t, s, now, Row(rowOf(s, now, "bare"), "bare"))
	if p := s.W.Prompt(now); s.W.Stopped == "" || p.Kind != walk.AskState ||
		p.Variable != model.Power {
		t.Errorf("stopped %q, it asks %s %s %q", s.W.Stopped, p.Kind, p.Variable, p.Question)
	}
}

// rowOf is the number of the row that can be answered so.
func rowOf(s *Session, now time.Time, answer string) int {
	for _, r := range s.W.Page(s.Context(now)).Rows {
		if slices.Contains(s.W.Choices(r.Step), answer) {
			return r.No
		}
	}
	return 0
}
