package command

import (
	"fmt"
	"math"
	"strings"

	"bench/oilcan/model"
	"bench/oilcan/model/job"
	"bench/oilcan/model/verdict"
	"bench/oilcan/ui/action"
	"bench/oilcan/ui/printfile"
)

// jobRow is one print as programs read it.
type jobRow struct {
	File     string  `json:"file"`
	Machine  string  `json:"machine,omitempty"`
	Partial  bool    `json:"partial"`
	Changes  int64   `json:"changes"`        // by tool and by hand
	ByHand   int64   `json:"manual_changes"` // of them
	Starts   int64   `json:"starts"`         // of prints, as the file orders them
	Layers   int64   `json:"layers"`
	Moves    int64   `json:"moves"`
	Lines    int64   `json:"lines"`
	Filament float64 `json:"filament_mm"` // in all
	Seconds  float64 `json:"seconds"`     // the moves and the waits the file orders
	// it lies within so much with 80 %; null: nothing learned
	Spread   *float64      `json:"seconds_spread"`
	Timed    int           `json:"timed_prints"` // the machine's times were learned from
	Heats    int64         `json:"heatings"`     // waits until hot end or bed is warm
	Retracts int64         `json:"retractions"`
	TravelKM [3]float64    `json:"travel_km"` // along x, y and z
	HotEnd   float64       `json:"hot_end_c"` // the hottest asked for, °C
	Bed      float64       `json:"bed_c"`     // the hottest asked for, °C
	ByTool   []toolRow     `json:"by_tool"`
	Service  []countRow    `json:"service_calls"` // by what they call
	Unknown  []countRow    `json:"unknown"`       // commands nobody knows, by their word
	Forecast []forecastRow `json:"forecast"`      // of the parts of the machine; [] without one
	// printed in styrenics; null where no material was told
	Styrenic *float64 `json:"styrenic_hours"`
	// printed in what is filled; null where no material was told
	Abrasive  *float64     `json:"abrasive_hours"`
	Unended   bool         `json:"cut_off"`   // its last line has no end
	Checksums int64        `json:"checksums"` // of lines, verified
	BadLines  int64        `json:"bad_lines"` // not as they should be; most are skipped
	Warnings  []warningRow `json:"warnings"`  // the first of them
	// why figures cannot be right, or it cannot run
	Doubts  []string  `json:"doubts"`
	Nozzle  []heldRow `json:"nozzle"`            // how long at which temperature
	Flow    string    `json:"flow,omitempty"`    // by M221
	Refused string    `json:"refused,omitempty"` // why it was not read, or not to its end
}

// heldRow is how long the hot end is held at a temperature.
type heldRow struct {
	C       float64 `json:"c"` // °C
	Seconds float64 `json:"seconds"`
}

// warningRow is a line that is not as it should be.
type warningRow struct {
	Line    int64  `json:"line"`
	Reason  string `json:"reason"`
	Skipped bool   `json:"skipped"` // else read as well as can be
}

// toolRow is what one tool prints.
type toolRow struct {
	Tool     int      `json:"tool"` // from 0
	Material string   `json:"material,omitempty"`
	MM       float64  `json:"filament_mm"`
	CM3      float64  `json:"filament_cm3"`
	Grams    *float64 `json:"grams"`   // null where the material is not known
	Seconds  float64  `json:"seconds"` // printed with it
}

// countRow is how often something stands in the file.
type countRow struct {
	Name string `json:"name"`
	N    int64  `json:"n"`
}

// forecastRow is what the print does to one part.
type forecastRow struct {
	Item    string       `json:"item"` // procedure id
	Part    string       `json:"part,omitempty"`
	Meter   model.Meter  `json:"meter"`  // what all figures are counted in
	Before  float64      `json:"before"` // used, before the print
	After   float64      `json:"after"`  // used, after it
	Low     float64      `json:"low"`    // of the band
	High    float64      `json:"high"`   // of the band
	Basis   string       `json:"basis"`  // where the band comes from
	Verdict verdict.Word `json:"verdict"`
	Swap    string       `json:"swap"` // before | after | "": not for this print
	Reason  string       `json:"swap_reason,omitempty"`
	EndHour *float64     `json:"end_hour"` // when its band's end is passed
	Layer   *int64       `json:"layer"`    // in which low is reached; null where it is not
	Hour    *float64     `json:"hour"`     // of the print, in which it is
	// chance, 0 to 1, that the part fails in it; null without lives
	Fails  *float64 `json:"fails"`
	Likely *float64 `json:"likely"`        // chance, 0 to 1, that low is reached by its end
	Why    string   `json:"why,omitempty"` // of the verdict unknown: what is missing
}

func rowOf(j *printfile.Job, m *model.Machine, rs *verdict.Result,
	against []printfile.Against) jobRow {
	r := &j.Report
	out := jobRow{File: j.Name, Partial: r.Partial, Changes: r.Changes(), ByHand: r.ManualChanges,
		Starts: r.Starts,
		Layers: r.Layers, Moves: r.Moves, Lines: r.Lines, Seconds: round(r.Total().Seconds(), 3),
		Heats:    r.Waits.Heats,
		Retracts: r.Retractions, HotEnd: r.Hottest.HotEnd, Bed: r.Hottest.Bed, Unended: r.Unended,
		Checksums: r.Checksums,
		ByTool:    []toolRow{}, Service: counted(r.Service), Unknown: counted(
			r.Unknown), Forecast: []forecastRow{}}
	out.BadLines, out.Warnings, out.Refused = r.Bad, []warningRow{}, j.Refused
	out.Doubts, out.Nozzle, out.Flow = []string{}, []heldRow{}, r.FlowText()
	for _, x := range against {
		out.Doubts = append(out.Doubts, x.Text)
	}
	out.Doubts = append(out.Doubts, j.Doubts(m)...)
	for _, h := range r.Held {
		out.Nozzle = append(out.Nozzle, heldRow{h.At, round(h.Time.Seconds(), 1)})
	}
	if out.Timed = r.Timed; r.Timed > 0 {
		spread := round(r.Spread.Seconds(), 1)
		out.Spread = &spread
	}
	for _, w := range r.Warnings {
		out.Warnings = append(out.Warnings, warningRow(w))
	}
	for a, l := range r.Travel {
		out.TravelKM[a] = round(l.Km(), 6)
	}
	for i, s := range j.Use.Spools {
		t := toolRow{Tool: s.Tool, Material: s.Material, MM: s.Used.MM(), CM3: round(s.CM3, 3),
			Seconds: round(r.Filament[i].Time.Seconds(), 3)}
		if !math.IsNaN(s.Grams) {
			g := round(s.Grams, 2)
			t.Grams = &g
		}
		out.Filament += t.MM
		out.ByTool = append(out.ByTool, t)
	}
	out.Filament = round(out.Filament, 6)
	if len(j.Use.Unsaid) == 0 {
		out.Styrenic, out.Abrasive = &j.Use.StyrenicHours, &j.Use.AbrasiveHours
	}
	if rs == nil {
		return out
	}
	out.Machine = m.Name
	for i := range rs.Rows {
		out.Forecast = append(out.Forecast, forecastOf(&rs.Rows[i]))
	}
	return out
}

func forecastOf(r *verdict.Row) forecastRow {
	g := &r.Gauge
	out := forecastRow{Item: g.Item, Part: g.Part, Meter: g.Meter, Before: r.Before, After: r.After,
		Low: g.Low, High: g.High,
		Basis: g.Basis, Verdict: r.Word, Swap: r.Swap, Fails: r.Fails, Likely: r.Likely, Why: r.Why}
	if r.Word == verdict.Unknown {
		out.After = r.Before
	}
	if out.Reason = r.Reason; r.EndAt > 0 {
		hour := round(r.EndAt.Hours(), 2)
		out.EndHour = &hour
	}
	if r.Word == verdict.Reaches {
		hour := round(r.At.Hours(), 2)
		out.Layer, out.Hour = &r.Layer, &hour
	}
	return out
}

func counted(list []job.Count) []countRow {
	out := []countRow{}
	for _, c := range list {
		out = append(out, countRow{c.Name, c.N})
	}
	return out
}

func round(v float64, places float64) float64 {
	p := math.Pow(10, places)
	return math.Round(v*p) / p
}

// writeJobs says what was read: for programs one object for one print, and a list for several.
func writeJobs(a *app, jobs []printfile.Job, m *model.Machine, results []verdict.Result,
	f jobFlags) error {
	of := func(i int) *verdict.Result {
		if i < len(results) {
			return &results[i]
		}
		return nil
	}
	var against []printfile.Against
	if m != nil {
		against = printfile.Bars(m, f.unattended, a.now())
	}
	if a.flags.json {
		rows := make([]jobRow, len(jobs))
		for i := range jobs {
			rows[i] = rowOf(&jobs[i], m, of(i), against)
		}
		switch len(rows) {
		case 0:
			return nil
		case 1:
			return a.writeJSON(rows[0])
		}
		return a.writeJSON(rows)
	}
	for _, x := range against {
		a.say("%s", a.th.OfState(x.State).On(x.Text))
	}
	for i := range jobs {
		if r := &jobs[i].Report; r.Partial && r.Moves == 0 && r.Changes() == 0 {
			continue // nothing was read before the fault
		}
		if i > 0 {
			a.say("")
		}
		costOf(a, &jobs[i], m, f.above)
		if r := of(i); r != nil {
			verdictOf(a, m, r)
		}
	}
	if lines := printfile.Sum(jobs, f.above); lines != nil {
		a.say("")
		headed(a, lines)
	}
	if n := plates(jobs); n > 1 {
		a.say("%d plates, each a print of its own: --plate 1 takes one", n)
	}
	if m != nil && results != nil {
		if text := printfile.LearnedText(job.Learn(m)); text != "" {
			a.say("")
			a.say("%s", text)
		}
	}
	stopsOf(a, results)
	return sparesOf(a, results)
}

// plates is how many of the prints are members of a container.
func plates(jobs []printfile.Job) (n int) {
	for i := range jobs {
		if jobs[i].Report.Name != "" {
			n++
		}
	}
	return n
}

// sparesOf says what the drawer lacks for what the prints make due.
func sparesOf(a *app, results []verdict.Result) error {
	if len(results) == 0 {
		return nil
	}
	b, err := a.bench()
	if err != nil {
		return err
	}
	for _, line := range printfile.Spares(results, b.Drawer) {
		a.say("%s", a.th.State.Due.On(line))
	}
	return nil
}

// costOf says what one print costs, and what cannot be right in that.
func costOf(a *app, j *printfile.Job, m *model.Machine, above float64) {
	lines := printfile.Cost(j, above)
	headed(a, lines[:1])
	for _, d := range j.Doubts(m) {
		a.say("  %s", a.th.State.Due.On("! "+d))
	}
	for _, line := range lines[1:] {
		a.say("%s", line)
	}
}

// headed writes lines, the name in the first one strong.
func headed(a *app, lines []string) {
	for i, line := range lines {
		if i == 0 {
			name, rest, _ := strings.Cut(line, printfile.Gap)
			a.say("%s%s%s", a.th.Text.Strong.On(name), printfile.Gap, rest)
			continue
		}
		a.say("%s", line)
	}
}

// verdictOf says what becomes of the parts.
func verdictOf(a *app, m *model.Machine, r *verdict.Result) {
	rows := verdict.Shown(r.Rows)
	a.say("")
	if len(rows) == 0 {
		text, toSay := printfile.Nothing(r.Rows, m.Name)
		if toSay {
			text += ": type its counters with oilcan meter " + action.Typed(m.Name) +
				" hours=N changes=N, and when care was last done with oilcan done"
		}
		a.say("%s", text)
		unknownOf(a, r.Rows)
		return
	}
	t := table{indent: "  ", right: []int{1, 2, 3}}
	t.add("on "+m.Name, "now", "this", "after", "band", "", "", "")
	for i := range rows {
		c := printfile.Cells(&rows[i])
		t.add(c.Name, c.Before, c.Need, c.After, c.Band, a.th.OfState(c.State).On(c.Word), c.Do,
			c.Note)
	}
	t.write(a)
	for _, line := range printfile.Legend(rows) {
		a.say("  %s", line)
	}
	unknownOf(a, r.Rows)
}

// unknownOf says of which gauges nothing can be said, and why.
func unknownOf(a *app, rows []verdict.Row) {
	for _, line := range printfile.Unknown(rows) {
		a.say("  unknown, %s", line)
	}
}

// stopsOf says before which of several prints to renew what.
func stopsOf(a *app, results []verdict.Result) {
	stops := verdict.Stops(results)
	if len(stops) == 0 {
		return
	}
	a.say("")
	for _, s := range stops {
		before := "this print"
		if len(results) > 1 {
			before = fmt.Sprintf("print %d, %s", s.Print+1, results[s.Print].Print.Name)
		}
		a.say("before %s: %s", before, s.Row.Gauge.Title)
	}
}
