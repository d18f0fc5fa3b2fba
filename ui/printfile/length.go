package printfile

import (
	"fmt"
	"math"
	"regexp"
	"strings"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/model/job"
)

// lengthOf are the ways a length of time is typed, with hours and without: 3 h 40, 3h40m, 3:40; 220
// min, 75 s.
var lengthOf = [...]*regexp.Regexp{
	regexp.MustCompile(`^(\d+) ?(?:h|hours?|:) ?(?:(\d+) ?(?:m|min|minutes?)?)?()$`),
	regexp.MustCompile(`^()(?:(\d+) ?(?:m|min|minutes?))? ?(?:(\d+) ?(?:s|sec|seconds?))?$`),
}

// Longest is longer than any print.
const Longest = 1000 * time.Hour

// ReadLength reads a length of time up to most. A number alone is none: it may be hours or minutes.
func ReadLength(text string, most time.Duration) (time.Duration, error) {
	s := strings.ToLower(strings.TrimSpace(text))
	for _, way := range lengthOf {
		m := way.FindStringSubmatch(s)
		if m == nil || s == "" {
			continue
		}
		d := time.Duration(0)
		for i, unit := range [...]time.Duration{time.Hour, time.Minute, time.Second} {
			if m[i+1] == "" {
				continue
			}
			n, err := model.ReadCount(m[i+1], "", 1e6)
			if err != nil {
				return 0, err
			}
			d += time.Duration(n) * unit
		}
		if d <= 0 || d > most {
			return 0, fmt.Errorf(
				"%q cannot be: more than nothing, and %s at most",
				text,
				Span(most),
			)
		}
		return d, nil
	}
	return 0, fmt.Errorf("%q is no length of time: write it like 3 h 40, 25 min or 75 s", text)
}

// Span says a length of time: 45 s, 12 min, 3 h 05.
func Span(d time.Duration) string {
	switch m := int(math.Round(d.Minutes())); {
	case d < 90*time.Second:
		return fmt.Sprintf("%d s", int(math.Round(d.Seconds())))
	case m < 60:
		return fmt.Sprintf("%d min", m)
	default:
		return fmt.Sprintf("%d h %02d", m/60, m%60)
	}
}

// timeText says how long a print takes, and what is not in it: "41 min moving; heating and 77
// changes come on top", "3 h 41 ± 12 min".
func timeText(r *job.Report) string {
	text := Span(r.Total())
	if r.Timed > 0 {
		text += " ± " + Span(r.Spread)
	}
	var top []string
	one := true
	if (r.Waits.Heats > 0 || r.Hottest.HotEnd > 0) && r.Waits.Heating == 0 {
		top = append(top, "heating")
	}
	if r.ToolChanges > 0 && r.Waits.Changing == 0 {
		top, one = append(top, model.Counted(r.ToolChanges, "change")), r.ToolChanges == 1
	}
	if r.ManualChanges > 0 {
		top, one = append(top, model.Counted(r.ManualChanges, "change")+" by hand"), r.ManualChanges == 1
	}
	if len(top) == 0 || r.Total() == 0 {
		return text
	}
	if r.Waits.Heating == 0 && r.Waits.Changing == 0 {
		text += " moving"
	}
	verb := " come on top"
	if len(top) == 1 && one {
		verb = " comes on top"
	}
	return text + "; " + andWords(top) + verb
}

// LearnedText says what a machine's own times are; "" where none is known.
func LearnedText(t job.Timing) string {
	var out []string
	if t.Start > 0 {
		out = append(out, "start and heating "+Span(t.Start))
	}
	if t.Change > 0 {
		out = append(out, "a change "+Span(t.Change))
	}
	if t.Prints == 0 {
		return strings.Join(out, ", ")
	}
	return "learned from " + model.Counted(
		int64(t.Prints),
		"print",
	) + " timed: " + strings.Join(
		out,
		", ",
	) +
		fmt.Sprintf(
			", speeding up and slowing down ×%s",
			model.Number(t.Ramps),
		)
}

func andWords(words []string) string {
	if n := len(words); n > 1 {
		return strings.Join(words[:n-1], ", ") + " and " + words[n-1]
	}
	return strings.Join(words, "")
}
