package measure

import (
	"fmt"
	"math"

	"bench/oilcan/model"
)

// stillWet is the loss an hour, as a share of the filament, at which a roll counts as dry: half a
// gram in four hours of a kilogram, as the procedure for drying has it (from memory).
const stillWet = 0.5 / 4 / 1000

// DryTime is how many hours more a roll loses water before it loses less than still, in g an hour,
// from its losses in two equal stretches of so many hours: the loss falls by the same share from
// stretch to stretch (first order, as thin filament does; from memory). ok is false where it does
// not fall.
func DryTime(first, second, hours, still float64) (more float64, ok bool) {
	if !(first > 0) || !(second > 0) || second >= first {
		return 0, second <= still*hours
	}
	rate := math.Log(first/second) / hours            // 1/h
	now := second * rate / (math.Exp(rate*hours) - 1) // g an hour at the end of the second stretch
	return max(0, math.Log(now/still)/rate), true
}

func dryingCalculator(materials []model.Material) Calculator {
	var options []Option
	for _, m := range materials {
		if !m.Banned {
			options = append(options, Option{m.ID, m.Name})
		}
	}
	return Calculator{
		ID:      "drying",
		Group:   "humidity",
		Title:   "Drying a roll",
		Purpose: "How hot and how long by its material, and how much longer by what the scale showed.",
		Caution: "The lowest limit of filament, spool and dryer rules: an unknown roll or spool 45 °C at most; " +
			"stay with a dryer that was never checked; PVC is never dried.",
		Fields: []Field{
			{Name: "material", Ask: "Material", Kind: Word, Options: options},
			{Name: "filament", Ask: "Filament on it", Unit: "g", Low: 10, High: 20000,
				Usual: "1000"},
			{Name: "before", Ask: "Roll before", Unit: "g", Low: 10, High: 30000, Optional: true,
				Hint: "with its spool, as it went in"},
			{Name: "middle", Ask: "Roll half way", Unit: "g", Low: 10, High: 30000, Optional: true},
			{Name: "after", Ask: "Roll now", Unit: "g", Low: 10, High: 30000, Optional: true,
				Hint: "the same stretch of time after half way: then the rest is worked out"},
			{Name: "hours", Ask: "Hours in the dryer", Unit: "h", Low: 0.25, High: 200,
				Optional: true},
		},
		work: func(in In) (Result, error) {
			m := model.FindMaterial(materials, in.Word("material"))
			if m == nil {
				return Result{}, fmt.Errorf("there is no material %q", in.Word("material"))
			}
			return workDrying(in, m)
		},
	}
}

func workDrying(in In, m *model.Material) (Result, error) {
	r := Result{Source: "bands of the table of materials (" + m.Basis +
		"); the rest by a loss that falls by the same share",
		Tolerance: "hours ± a third; a scale of 1 g sees 0.1 % of a roll",
		Spoils:    "a card spool, which gives off water of its own, a bag or label weighed with it, another dryer or setting"}
	r.text("dryer", fmt.Sprintf("%s to %s °C", figure(m.Dry.Low), figure(m.Dry.High)))
	r.text("hours", fmt.Sprintf("%s to %s h for 1 kg open for weeks", figure(m.Hours.Low),
		figure(m.Hours.High)))
	before, middle, after, hours := in.Num("before"), in.Num("middle"), in.Num("after"), in.Num(
		"hours")
	switch {
	case !in.Has("before") || !in.Has("after"):
		if in.Has("before") || in.Has("after") {
			r.say("Two weights, before and now, show the water it lost.")
		}
		return r, nil
	case after > before || in.Has("middle") && (middle > before || after > middle):
		return r,
			fmt.Errorf("a roll does not grow heavier in a dryer: %s g, then %s g; was a spool or bag weighed with it, the scale at zero", figure(before), figure(after))
	}
	lost, filament := before-after, in.Num("filament")
	r.Rows = append([]Row{{Name: "lost", Value: lost, Unit: "g",
		Text: fmt.Sprintf("%s %% of the filament", figure(100*lost/filament))}}, r.Rows...)
	if lost > 0.03*filament {
		r.Grade = Doubtful
		r.say("Over 3 %% is more than water (from memory): was a spool or a bag weighed with it?")
	}
	if !in.Has("middle") || !in.Has("hours") {
		r.say("Weigh half way too and give the hours, and the rest is worked out.")
		return r, nil
	}
	more, ok := DryTime(before-middle, middle-after, hours/2, stillWet*filament)
	switch {
	case !ok:
		r.Grade = worse(r.Grade, Doubtful)
		r.say("The loss does not fall from half to half: go on, longer and not hotter, and weigh again.")
	case more == 0:
		r.Grade = worse(r.Grade, Good)
		r.row("more", 0, "h")
		r.say("It loses next to nothing: dry.")
	default:
		r.row("more", more, "h")
		r.say("Longer, not hotter; weigh again then.")
	}
	return r, nil
}
