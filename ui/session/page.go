package session

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"bench/oilcan/model"
	"bench/oilcan/model/plan"
	"bench/oilcan/procedures"
	"bench/oilcan/ui/theme"
)

// PlanPage writes a plan as a person reads it: how good the choice for the minutes is, the order with
// minutes and why, what to lay out with the screws each key is for, what is missing from the drawer,
// and how sure the order is. No line is wider than width.
func PlanPage(lib *procedures.Library, p *plan.Plan, drawer model.Drawer, width int) []string {
	var out []string
	if fit := FitText(p); fit != "" { // seen before it is begun, also where the minutes change nothing
		out = append(theme.Wrap(fit, width), "")
	}
	out = append(out, orderPage(lib, p, width)...)
	out = append(out, "")
	out = append(out, layPage(lib, p, width)...)
	out = append(out, missingPage(p, drawer, width)...)
	for _, l := range p.Left {
		out = append(out, theme.Wrap(l.Why, width)...)
	}
	return append(out, theme.Wrap(Proof(p), width)...)
}

// FitText says how good a choice for the minutes there are is; "" where none was made.
func FitText(p *plan.Plan) string {
	f := p.Fit
	switch {
	case f == nil:
		return ""
	case f.Over:
		return fmt.Sprintf("What has to be in takes more than %s min.", model.Figure(f.Minutes))
	case !f.Optimal:
		return fmt.Sprintf("Of what is likely past its band this takes care of %.1f; no choice for %s min does more than %.1f.", f.Gained, model.Figure(f.Minutes), f.Bound)
	}
	return fmt.Sprintf("No other choice for %s min lowers the risk more.", model.Figure(f.Minutes))
}

// Proof says how sure the order is, and what it costs in changes.
func Proof(p *plan.Plan) string {
	how := "shortest order, proven"
	if !p.Optimal {
		how = fmt.Sprintf("not proven shortest: at most %s of %s min of changing over could be saved", model.Minutes(p.Cost-p.Bound), model.Minutes(p.Cost))
	}
	return fmt.Sprintf("%s · %s · %s", how, model.Counted(p.SetUpActions, "set-up action"),
		model.Counted(p.ToolPickups, "change")+" of tool")
}

// whyWidth is the room the longest reason for a place takes.
const whyWidth = 44

// orderPage lists the sequence; neighbouring set-up actions stand on one line.
func orderPage(lib *procedures.Library, p *plan.Plan, width int) []string {
	nameWidth := max(20, min(50, width-18))
	beside := width-nameWidth-18 >= whyWidth
	var out []string
	line := func(n, title, why, hands, wait string) {
		l := fmt.Sprintf("%3s %s %5s %5s", n, pad(title, nameWidth), hands, wait)
		if beside && why != "" {
			l += "   " + why
		}
		out = append(out, strings.TrimRight(l, " "))
		if !beside && why != "" {
			out = append(out, "      "+why)
		}
	}
	line("", "in this order", "", "hands", "wait")
	n := 0
	for i := 0; i < len(p.Sequence); {
		n++
		it := p.Sequence[i]
		if it.Kind == model.BlockCare {
			line(strconv.Itoa(n), title(lib, it.ID), it.Why, zeroBlank(it.HandsOn),
				zeroBlank(it.Waiting))
			i++
			continue
		}
		j, hands, waiting := i, 0.0, 0.0
		var names []string
		for ; j < len(p.Sequence) && p.Sequence[j].Kind == model.BlockSetUp && len(names) < 3; j++ {
			names = append(names, SetUpWords(p.Sequence[j].ID))
			hands, waiting = hands+p.Sequence[j].HandsOn, waiting+p.Sequence[j].Waiting
		}
		line(strconv.Itoa(n), strings.Join(names, ", "), p.Sequence[i].Why, zeroBlank(hands),
			zeroBlank(waiting))
		i = j
	}
	return out
}

func zeroBlank(f float64) string {
	if f == 0 {
		return ""
	}
	return model.Minutes(f)
}

func title(lib *procedures.Library, id string) string {
	if p := lib.Get(id); p != nil {
		return p.Heading()
	}
	return id
}

// setUpWords are the set-up actions in a few words.
var setUpWords = map[string]string{
	"heat": "heat", "unload": "unload", "part-filament": "cut the filament", "cool": "let it cool",
	"cool-off": "let it cool, switched off", "lower-bed": "bed down",
	"switch-off": "switch off", "cut-power": "cut the power",
	"cut-vapour": "cut the power away from the vapour", "unplug": "unplug",
	"open-door": "open the door", "changer-off": "tubes off", "top-off": "top off",
	"cover-off": "cover off", "cover-on": "cover on", "air": "air out", "top-on": "top on",
	"changer-on": "tubes on",
	"close-door": "close the door", "plug-in": "count, plug in", "switch-on": "switch on",
	"sensor-proof": "prove the sensor", "heat-off": "heaters to zero",
	"begin": "stop what could start it", "lay-out": "lay out", "gantry-free": "free the gantry",
	"gantry-held": "hold the gantry",
}

// SetUpWords gives a set-up action in a few words.
func SetUpWords(id string) string {
	if w, ok := setUpWords[id]; ok {
		return w
	}
	return id
}

// layPage lists what to lay out: each key with the screws it is for, then the rest, supplies, and
// what to wear.
func layPage(lib *procedures.Library, p *plan.Plan, width int) []string {
	var keys, rest, supplies []string
	for _, l := range p.Tools {
		if len(l.Fits) > 0 {
			keys = append(keys, ToolText(l))
		} else {
			rest = append(rest, ToolText(l))
		}
	}
	for _, l := range p.Supplies {
		supplies = append(supplies, SupplyText(l))
	}
	var out []string
	head := "lay out"
	for _, k := range keys {
		out = append(out, headed(head, k, width)...)
		head = ""
	}
	out = append(out, headed(head, strings.Join(rest, ", "), width)...)
	out = append(out, headed("have by", strings.Join(supplies, ", "), width)...)
	return append(out, headed("wear", strings.Join(Gear(lib, p), ", "), width)...)
}

// ToolText names a tool with the screws it is for.
func ToolText(l plan.Lay) string {
	var fits []string
	for _, f := range l.Fits {
		text := f.Size + " " + f.Head
		if f.For != "" {
			text += ": " + f.For
		}
		fits = append(fits, text)
	}
	text := l.Name
	if len(fits) > 0 {
		text += " (" + strings.Join(fits, "; ") + ")"
	}
	return text + perhaps(l)
}

// SupplyText names a supply with how much of it is used.
func SupplyText(l plan.Lay) string {
	unit := ""
	if l.Unit != "" && l.Unit != "piece" {
		unit = " " + l.Unit
	}
	if unit == "" && l.Quantity == 1 {
		return l.Name + perhaps(l)
	}
	return l.Name + " " + model.Number(l.Quantity) + unit + perhaps(l)
}

func perhaps(l plan.Lay) string { return only(l.Maybe, " (perhaps)") }

// only is a text where something holds, else nothing.
func only(is bool, text string) string {
	if is {
		return text
	}
	return ""
}

// Gear is the protective gear of everything in a plan, each named once.
func Gear(lib *procedures.Library, p *plan.Plan) []string {
	var out []string
	for _, it := range p.Sequence {
		q := lib.Get(it.ID)
		if q == nil {
			continue
		}
		for _, g := range q.Gear {
			if !slices.Contains(out, g) {
				out = append(out, g)
			}
		}
	}
	return out
}

// headed wraps a text beside a heading; nothing where there is no text.
func headed(head, text string, width int) []string {
	if text == "" {
		return nil
	}
	var out []string
	for _, l := range theme.Wrap(text, width-10) {
		out = append(out, strings.TrimRight(fmt.Sprintf("%-9s %s", head, l), " "))
		head = ""
	}
	return out
}

// Missing names the supplies the drawer lacks for a plan, a sentence each, and those it never
// counted.
func Missing(p *plan.Plan, drawer model.Drawer) (lacks, uncounted []string) {
	for _, l := range p.Supplies {
		s := drawer[l.Name]
		pieces := l.Unit == "" || l.Unit == "piece"
		switch {
		case s == nil || s.Count == nil:
			uncounted = append(uncounted, l.Name)
		case *s.Count == 0:
			lacks = append(lacks, l.Name+": none in the drawer"+only(l.Maybe, ", perhaps needed"))
		case pieces && *s.Count < l.Quantity:
			lacks = append(lacks, fmt.Sprintf("%s: %s in the drawer, %s%s needed", l.Name,
				model.Number(*s.Count), only(l.Maybe, "perhaps "), model.Number(l.Quantity)))
		}
	}
	return lacks, slices.Compact(uncounted)
}

func missingPage(p *plan.Plan, drawer model.Drawer, width int) []string {
	lacks, uncounted := Missing(p, drawer)
	var out []string
	for _, l := range lacks {
		out = append(out, headed("missing", l, width)...)
	}
	return append(out, headed("uncounted", strings.Join(uncounted, ", "), width)...)
}

func pad(s string, width int) string {
	if n := theme.Width(s); n < width {
		return s + strings.Repeat(" ", width-n)
	}
	r := []rune(s)
	for len(r) > 0 && theme.Width(string(r)) > width-1 {
		r = r[:len(r)-1]
	}
	if width < 1 {
		return ""
	}
	return string(r) + "…"
}
