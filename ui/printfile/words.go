package printfile

import (
	"fmt"
	"math"
	"strings"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/model/job"
	"bench/oilcan/model/verdict"
)

// Gap stands between a print's name and what is said of it in the first line of Cost.
const Gap = "   "

// Hot is the temperature, in °C, above which a nozzle's hours are told: a tube in the hot end ages
// above it (common practice).
const Hot = 240

// Cost says in a few lines what a print costs; names from the file are not made safe to draw. Above
// is the temperature in °C above which the nozzle's hours are told.
func Cost(j *Job, above float64) []string {
	r := &j.Report
	lines := []string{j.Name + Gap + strings.Join(head(j), " · ")}
	for i, s := range j.Use.Spools {
		lines = append(
			lines,
			fmt.Sprintf("  T%-3d %s, %s", s.Tool, filamentText(&s), Span(r.Filament[i].Time)),
		)
	}
	lines = append(lines, "  "+strings.Join(rest(r, above), " · "))
	if text := classes(&j.Use); text != "" {
		lines = append(lines, "  "+text)
	}
	commands, words := job.Parted(r.Unknown)
	if len(commands) > 0 {
		lines = append(lines, "  not known, and not counted: "+names(commands))
	}
	if len(words) > 0 {
		lines = append(lines, "  counted, but for letters that are not known: "+names(words))
	}
	if len(r.Service) > 0 {
		lines = append(lines, "  tool numbers beyond the tools, taken as service calls: "+
			names(r.Service))
	}
	if text := passedOver(r); text != "" {
		lines = append(lines, "  "+text)
	}
	if r.Partial {
		lines = append(lines, "  partial: this is only what came before the fault")
	} else if r.Unended {
		lines = append(lines, "  its last line has no end: the file may be cut off")
	}
	return lines
}

// filamentText says what is used of one filament: "12.40 m, 29.8 cm³, 37 g of PLA".
func filamentText(s *job.Spool) string {
	text := fmt.Sprintf("%.2f m", s.Used.Metres())
	if s.Used.Metres() < 1 {
		text = fmt.Sprintf("%.1f mm", s.Used.MM())
	}
	text += ", " + little(s.CM3) + " cm³"
	if !math.IsNaN(s.Grams) && s.Material != "" {
		text += ", " + little(s.Grams) + " g"
	}
	if s.Material != "" {
		text += " of " + s.Material
	}
	return text
}

// passedOver says which lines were not as they should be; "" where all were.
func passedOver(r *job.Report) string {
	var out []string
	if r.Skipped > 0 {
		out = append(out, model.Counted(r.Skipped, "line")+" skipped, as printers do")
	}
	if odd := r.Bad - r.Skipped; odd > 0 {
		out = append(out, model.Counted(odd, "odd line")+" read as well as can be")
	}
	if len(out) == 0 {
		return ""
	}
	var named []string
	for _, w := range r.Warnings {
		named = append(named, fmt.Sprintf("line %d, %s", w.Line, w.Reason))
	}
	if more := r.Bad - int64(len(r.Warnings)); more > 0 {
		named = append(named, model.Number(float64(more))+" more")
	}
	return strings.Join(out, ", ") + ": " + strings.Join(named, "; ")
}

// classes says what the print counts for by class of material; "" where nothing.
func classes(u *job.Use) string {
	var out []string
	for _, c := range []struct {
		hours float64
		meter model.Meter
	}{{u.StyrenicHours, model.StyrenicHours}, {u.AbrasiveHours, model.AbrasiveHours}} {
		if c.hours > 0 {
			out = append(out, figure(c.hours, c.meter)+" "+c.meter.Unit())
		}
	}
	switch {
	case len(out) == 0:
		return ""
	case len(u.Unsaid) > 0:
		out = append(out, "more by the tools whose material is not said")
	}
	return "counts for " + strings.Join(out, ", ")
}

// little writes an amount to a tenth, and what is less as that.
func little(v float64) string {
	if v > 0 && v < 0.05 {
		return "<0.1"
	}
	return model.Number(v)
}

func head(j *Job) []string {
	r := &j.Report
	out := []string{changesText(r)}
	if r.Layers > 0 { // none are told of what rises all the time, as on a belt
		out = append(out, model.Counted(r.Layers, "layer"))
	}
	out = append(out, timeText(r))
	if tools := len(r.Filament); r.ToolChanges > 0 && !j.changer {
		out = append(out, fmt.Sprintf("needs a changer with %d slots", tools))
	}
	return out
}

func changesText(r *job.Report) string {
	text := model.Counted(r.Changes(), "change")
	if r.ManualChanges > 0 {
		text += fmt.Sprintf(" (%d by hand)", r.ManualChanges)
	}
	return text
}

func rest(r *job.Report, above float64) []string {
	out := []string{
		model.Counted(r.Moves, "move"),
		model.Counted(r.Retractions, "retraction"),
		fmt.Sprintf(
			"travel x %s, y %s, z %s",
			way(r.Travel[0]),
			way(r.Travel[1]),
			way(r.Travel[2]),
		),
	}
	for _, t := range []struct {
		what string
		c    float64
	}{{"nozzle", r.Hottest.HotEnd}, {"bed", r.Hottest.Bed}, {"chamber", r.Hottest.Chamber}} {
		if t.c > 0 {
			out = append(out, fmt.Sprintf("%s %s °C", t.what, model.Number(t.c)))
		}
	}
	if hot := r.HeldAbove(above); hot > 0 {
		out = append(out, fmt.Sprintf("%s above %s °C", Span(hot), model.Number(above)))
	}
	if flow := r.FlowText(); flow != "" {
		out = append(out, flow)
	}
	if d := r.VolumeDiameter; d > 0 {
		out = append(out, fmt.Sprintf("by volumes of %s mm filament", model.Figure(d)))
	}
	return out
}

// way writes a length of travel: 4 mm, 35 cm, 940 m, 12.3 km.
func way(l job.Length) string {
	switch {
	case l == 0:
		return "0"
	case l.MM() < 10:
		return fmt.Sprintf("%.0f mm", math.Ceil(l.MM()))
	case l.Metres() < 1:
		return fmt.Sprintf("%.0f cm", l.MM()/10)
	case l.Km() < 1:
		return fmt.Sprintf("%.0f m", l.Metres())
	}
	return fmt.Sprintf("%.1f km", l.Km())
}

// names lists counts, the first few.
func names(list []job.Count) string {
	var out []string
	for i, c := range list {
		if i == 6 {
			out = append(out, fmt.Sprintf("and %d more", len(list)-i))
			break
		}
		out = append(out, fmt.Sprintf("%s ×%s", c.Name, model.Number(float64(c.N))))
	}
	return strings.Join(out, ", ")
}

// Row is a verdict in cells.
type Row struct {
	Name, Before, Need, After, Band string
	Word                            string
	State                           model.GaugeWord // whose colour the word has
	Note                            string
	Do                              string // "do it before", "do it after"; "" for neither
}

// Cells says one gauge through a print.
func Cells(r *verdict.Row) Row {
	g := &r.Gauge
	c := Row{Name: g.Short, Before: "?", Need: "?", After: "?", Word: string(r.Word),
		State: state(r.Word)}
	if g.Measured {
		c.Before = figure(r.Before, g.Meter)
		c.Band = strings.TrimSpace(figure(g.Low, g.Meter) + "–" + figure(g.High, g.Meter) + " " +
			g.Meter.Unit())
	}
	if r.Word != verdict.Unknown && g.Measured {
		c.Need, c.After = "+"+figure(r.Need, g.Meter), figure(r.After, g.Meter)
	}
	c.Note = strings.Join(notes(r), "; ")
	if r.Swap != "" {
		c.Do = "do it " + r.Swap
	}
	return c
}

// notes says what the cells do not.
func notes(r *verdict.Row) []string {
	var out []string
	switch why := r.Gauge.Why; {
	case r.Word == verdict.Unknown:
	case why.Kind == model.WithoutStarts:
		out = append(out, "starts are not counted")
	case why.String() != "":
		out = append(out, why.String())
	}
	switch {
	case r.Word == verdict.Unknown:
		out = append(out, r.Why)
	case r.Word == verdict.Reaches:
		out = append(out, about(r.At, r.Layer))
	}
	if r.EndAt > 0 && r.Word != verdict.Lasts {
		out = append(out, "past its end "+about(r.EndAt, r.EndIn))
	}
	if r.Spare != "" && r.Swap == verdict.Before && r.Need >= 0.1 && !r.Whole() {
		out = append(out, "a new one shows "+figure(r.Need, r.Gauge.Meter)+" after it")
	}
	if r.Whole() {
		out = append(out, "more than its whole band in one print: see to it on the way")
	}
	if r.Word == verdict.Lasts && r.Likely != nil && *r.Likely >= 0.1 {
		out = append(out, percent(*r.Likely)+
			" to reach it all the same, by the use since the last reading")
	}
	if r.Fails != nil && (r.Word != verdict.Lasts || *r.Fails >= 0.01) {
		out = append(out, percent(*r.Fails)+" to fail in it, by "+r.By)
	}
	return out
}

// Legend says why some parts are done before the print and others after it, a line each; with their
// names where not all that are done then have the same reason.
func Legend(rows []verdict.Row) []string {
	var keys []string
	of, reasons := map[string][]string{}, map[string]int{}
	for i := range rows {
		r := &rows[i]
		if r.Swap == "" || r.Reason == "" {
			continue
		}
		key := "done " + r.Swap + ": " + r.Reason
		if of[key] == nil {
			keys = append(keys, key)
			reasons[r.Swap]++
		}
		of[key] = append(of[key], strings.ReplaceAll(r.Gauge.Short, ", ", " "))
	}
	for i, key := range keys {
		if reasons[strings.TrimSuffix(strings.Fields(key)[1], ":")] > 1 {
			keys[i] += " (" + strings.Join(few(of[key]), ", ") + ")"
		}
	}
	return keys
}

// few names the first of some, and how many more there are.
func few(names []string) []string {
	if n := len(names) - mostNames; n > 0 {
		return append(names[:mostNames:mostNames], fmt.Sprintf("and %d more", n))
	}
	return names
}

// about says where in a print something is.
func about(at time.Duration, layer int64) string {
	if layer > 0 {
		return fmt.Sprintf("about layer %s, %s in", model.Number(float64(layer)), Span(at))
	}
	return "about " + Span(at) + " in"
}

func percent(p float64) string {
	switch {
	case p < 0.005:
		return "under 1 %"
	case p > 0.995:
		return "over 99 %"
	}
	return fmt.Sprintf("%.0f %%", p*100)
}

// figure writes a value of a meter: counts and what is beyond 100 whole, the rest to a tenth.
func figure(v float64, m model.Meter) string {
	switch m {
	case model.Changes, model.Starts, model.Cuts:
		return model.Number(math.Floor(v + 1e-6))
	}
	switch {
	case v > 0 && v < 0.05:
		return "<0.1"
	case v >= 100:
		return model.Number(math.Floor(v + 1e-6))
	}
	return model.Number(v)
}

// state gives a verdict the colour of a gauge.
func state(w verdict.Word) model.GaugeWord {
	switch w {
	case verdict.Past:
		return model.WordPast
	case verdict.Due, verdict.Reaches:
		return model.WordDue
	case verdict.Unknown:
		return model.WordUnknown
	}
	return model.WordFresh
}

// mostNames is how many gauges Unknown names for one reason.
const mostNames = 8

// Unknown says, for each reason, for which parts no verdict can be given.
func Unknown(rows []verdict.Row) []string {
	var whys []string
	of := map[string][]string{}
	for i := range rows {
		r := &rows[i]
		if r.Word != verdict.Unknown || !r.Renews() {
			continue
		}
		if of[r.Why] == nil {
			whys = append(whys, r.Why)
		}
		of[r.Why] = append(of[r.Why], strings.ReplaceAll(r.Gauge.Short, ", ", " "))
	}
	var out []string
	for _, why := range whys {
		out = append(out, why+": "+strings.Join(few(of[why]), ", "))
	}
	return out
}
