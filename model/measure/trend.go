package measure

import (
	"fmt"
	"math"
)

// Chart is an individuals chart: the middle of some readings and the limits within which they lie
// by themselves.
type Chart struct {
	Middle, Low, High float64
	Range             float64 // mean of the moving range
}

// leastChart is how many readings make limits that say anything.
const leastChart = 8

// d2 is the mean of the range of two readings of a normal law with standard deviation 1.
const d2 = 1.128

// Individuals makes a chart of readings in the order they were taken: mean ± 3 MR/d2, MR the mean
// moving range (NIST/SEMATECH e-Handbook 6.3.2.2). ok is false below eight readings.
func Individuals(list []float64) (c Chart, ok bool) {
	if len(list) < 2 {
		return Chart{}, false
	}
	for i, v := range list {
		c.Middle += v / float64(len(list))
		if i > 0 {
			c.Range += math.Abs(v-list[i-1]) / float64(len(list)-1)
		}
	}
	c.Low, c.High = c.Middle-3*c.Range/d2, c.Middle+3*c.Range/d2
	return c, len(list) >= leastChart
}

// Outside tells whether a reading is not what this machine does.
func (c Chart) Outside(v float64) bool { return v < c.Low || v > c.High }

var trendCalculator = Calculator{
	ID: "trend", Group: "trends", Title: "Is this reading usual?",
	Purpose: "Whether readings are those of one machine that did not change.",
	Fields: []Field{
		{Name: "readings", Ask: "Readings", Kind: Numbers, Least: 2,
			Hint: "oldest first, set apart by spaces, all in one unit; from eight on there are limits"},
	},
	work: func(in In) (Result, error) {
		list := in.List("readings")
		c, ok := Individuals(list)
		r := Result{Source: "individuals chart, mean ± 3 moving ranges / 1.128 (NIST/SEMATECH e-Handbook 6.3.2.2)",
			Tolerance: "of a machine that did not change about 1 reading in 370 lies outside",
			Spoils:    "readings of other places, units or methods; a part renewed between: begin anew there"}
		r.row("last", list[len(list)-1], "")
		r.row("mean", c.Middle, "")
		if !ok {
			r.say("%d readings: from %d on there are limits.", len(list), leastChart)
			return r, nil
		}
		r.row("low limit", c.Low, "")
		r.row("high limit", c.High, "")
		r.Grade = Good
		for i, v := range list {
			if c.Outside(v) {
				r.Grade = Doubtful
				r.text(fmt.Sprintf("reading %d", i+1), figure(v)+", outside what this machine does")
			}
		}
		return r, nil
	},
}
