package sheet

import (
	"slices"
	"strings"
	"testing"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/ui/book"
)

// Paper says all that oilcan due says of what stands, what stops a machine first, with each day by
// its own name: a tag has its own, a finding was seen, a reminder is to do.
func TestPaperSaysWhatStands(t *testing.T) {
	at := func(d int) time.Time { return time.Date(2026, 11, d, 9, 0, 0, 0, time.UTC) }
	found := func(d int, f model.Found, again int) model.Finding {
		if again > 0 {
			f.Again = at(again)
		}
		return model.Finding{Found: f, At: at(d)}
	}
	m := &model.Machine{MachineFact: model.MachineFact{Name: "Heron"},
		Tag: &model.Tag{Kind: model.TagStopped, Why: "brown plug", At: at(3)},
		Findings: []model.Finding{
			found(1, model.Found{Kind: model.FoundNote, Text: "Code 31 stood on the screen."}, 0),
			found(2, model.Found{Kind: model.FoundLater, Text: "Re-check the belt screws."}, 28),
			found(3, model.Found{Kind: model.FoundStop, Text: "brown plug"}, 0),
			found(4, model.Found{Kind: model.FoundStop, Text: "door glass cracked"}, 26),
			found(5, model.Found{Kind: model.FoundPart, Text: "belt frayed", Part: "belt"}, 27),
			found(6, model.Found{Kind: model.FoundOwed, Hash: "x",
				Text: model.OwedUnderPower + "slots on the screen"}, 0),
		}}
	want := []string{
		"stopped: brown plug; since 2026-11-03",
		"door glass cracked; seen 2026-11-04; look again 2026-11-26",
		"Code 31 stood on the screen; seen 2026-11-01",
		"owed under power: slots on the screen; reminder of 2026-11-06",
		"belt frayed; seen 2026-11-05; look again 2026-11-27",
		"Re-check the belt screws; reminder of 2026-11-02; to do 2026-11-28",
	}
	now := at(25)
	for _, d := range []Doc{Bench("north", []*model.Machine{m}, nil, 24*time.Hour, now),
		Machine(m, nil, nil, now)} {
		var list []string
		for _, p := range d.Parts {
			list = append(list, p.List...)
		}
		if !slices.Equal(list, want) {
			t.Errorf("%s stands\n%s\nnot\n%s", d.Title, strings.Join(list, "\n"),
				strings.Join(want, "\n"))
		}
		for _, it := range book.Reminders(m, 10*24*time.Hour, now) {
			if !slices.Contains(list, it.Said(now)) {
				t.Errorf("%s lacks %q", d.Title, it.Said(now))
			}
		}
	}
}

// On paper a day, a number and what is short stay on their line; nothing of it gets into an
// attribute.
func TestPaperKeepsDaysAndNumbersWhole(t *testing.T) {
	d := Doc{Title: "2026-11-25", Parts: []Part{{List: []string{"since 2026-11-25 09:14, 12 345 <h>"},
		Gauges: []Gauge{{Gauge: model.Gauge{Title: "rods", Measured: true, Used: 1019, High: 1500,
			Meter: model.Hours}, When: "2027-01-21 (01-11 to 02-03)"}}}}}
	got := d.HTML()
	for _, want := range []string{"<title>2026-11-25</title>",
		`<li>since <span class="keep">2026-11-25 09:14</span>, <span class="keep">12 345</span> &lt;h&gt;`,
		`<td class="said keep"><span class="keep">1 019</span> of`, `aria-label="1 019 of`,
		`<td class="said"><span class="keep">2027-01-21</span> (<span class="keep">01-11</span> to`} {
		if !strings.Contains(got, want) {
			t.Errorf("it lacks %s\n%s", want, got)
		}
	}
}
