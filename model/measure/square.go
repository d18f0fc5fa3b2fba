package measure

import (
	"fmt"
	"math"
	"strconv"
)

// OutOfSquare is the angle in radians by which the corner of a parallelogram is not square, from
// its sides and diagonals: the cosine rule gives d1² - d2² = 4 a b sin γ. Positive where the first
// diagonal is the longer one. ok is false where such diagonals cannot be.
func OutOfSquare(a, b, first, second float64) (angle float64, ok bool) {
	s := (first*first - second*second) / (4 * a * b)
	return math.Asin(s), math.Abs(s) < 0.5
}

// diagonalFields are those of a rectangle; side and diagonal say what is measured.
func diagonalFields(first, second, hint string) []Field {
	return []Field{
		{Stays: true, Name: "width", Ask: "Width", Unit: "mm", Low: 10, High: 3000,
			Hint: "x, as drawn or as measured"},
		{Stays: true, Name: "depth", Ask: "Depth", Unit: "mm", Low: 10, High: 3000, Hint: "y"},
		{Name: "first", Ask: first, Unit: "mm", Low: 10, High: 5000, Hint: hint},
		{Name: "second", Ask: second, Unit: "mm", Low: 10, High: 5000},
	}
}

// How well a diagonal is read in mm, from memory: by a tape on a frame, by a caliper on a print.
const (
	tapeReads    = 0.5
	caliperReads = 0.05
)

// diagonals works out what both calculators of diagonals share.
func diagonals(in In, reads float64) (r Result, angle float64, err error) {
	a, b, first, second := in.Num("width"), in.Num("depth"), in.Num("first"), in.Num("second")
	angle, ok := OutOfSquare(a, b, first, second)
	want := math.Hypot(a, b)
	if !ok || math.Abs((first+second)/2/want-1) > 0.05 {
		return r, 0,
			fmt.Errorf(
				"a rectangle of %s by %s mm has diagonals of about %s mm: measure again, corner to corner",
				figure(a),
				figure(b),
				figure(want),
			)
	}
	per := 100 * math.Tan(angle)
	r.row("apart", math.Abs(first-second), "mm")
	r.row("per 100 mm", math.Abs(per), "mm")
	r.row("angle", angle*180/math.Pi, "°")
	r.Tolerance = fmt.Sprintf("± %s mm per 100 mm where each diagonal is read to %s mm",
		figure(100*reads*math.Sqrt2*want/(2*a*b)), figure(reads))
	r.Source = "cosine rule: d1² - d2² = 4 a b sin γ"
	return r, angle, nil
}

var squareCalculator = Calculator{
	ID:      "square",
	Group:   "tilt",
	Title:   "Frame: square by diagonals",
	Purpose: "How far a frame or gantry is out of square, from two diagonals.",
	Fields: diagonalFields("Front left to back right", "Front right to back left",
		"the same points on all four corners"),
	work: func(in In) (Result, error) {
		r, angle, err := diagonals(in, tapeReads)
		if err != nil {
			return r, err
		}
		r.Spoils = "a tape that sags, other points at one corner, a frame on an uneven table"
		r.Grade = Good
		if 100*math.Abs(math.Tan(angle)) > 0.2 {
			r.Grade = Doubtful
			r.say(
				"Over 0.2 mm in 100 (from memory): loosen in pairs, push along the longer diagonal, snug again in pairs.",
			)
		}
		return r, nil
	},
}

var skewCalculator = Calculator{
	ID: "skew", Group: "tilt", Title: "Print: skew of a square",
	Purpose: "The skew of the axes, from the diagonals of a printed square.",
	Fields: diagonalFields("Front left to back right", "Front right to back left",
		"outer edges, by caliper, on the square as it lay on the bed"),
	work: func(in In) (Result, error) {
		r, angle, err := diagonals(in, caliperReads)
		if err != nil {
			return r, err
		}
		factor := math.Tan(angle)
		r.Rows = append(r.Rows, Row{Name: "skew factor", Value: factor,
			Text: strconv.FormatFloat(factor, 'f', 5, 64)})
		r.Spoils = "a square under 80 mm, elephant's foot on its first layers, a corner that curled, a turned part"
		r.Grade = Good
		if 100*math.Abs(math.Tan(angle)) > 0.2 {
			r.Grade = Doubtful
			r.say(
				"Over 0.2 mm in 100 (from memory): set the machine true first; a factor only hides the rest.",
			)
		}
		lean := "right"
		if angle < 0 {
			lean = "left"
		}
		r.say("The back of the print leans to the %s.", lean)
		return r, nil
	},
}
