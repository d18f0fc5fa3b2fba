package measure

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"bench/oilcan/model"
)

// Plane is z = At + X x + Y y, in mm; X and Y are slopes.
type Plane struct{ At, X, Y float64 }

// Z is the height of the plane at a place.
func (p Plane) Z(x, y float64) float64 { return p.At + p.X*x + p.Y*y }

// errLine is that points lie on a line, through which any plane can lie.
var errLine = errors.New("the places lie on one line: give three or more that span the bed")

// FitPlane is the plane nearest to three or more points by least squares of the height: the normal
// equations about the middle of the points (Chapra and Canale, Numerical Methods for Engineers,
// general linear least squares).
func FitPlane(points []Point) (Plane, error) {
	var mx, my, mz float64
	for _, p := range points {
		mx, my, mz = mx+p.X, my+p.Y, mz+p.Z
	}
	n := float64(len(points))
	if n < 3 {
		return Plane{}, fmt.Errorf("a plane needs three places, not %d", len(points))
	}
	mx, my, mz = mx/n, my/n, mz/n
	var xx, xy, yy, xz, yz float64
	for _, p := range points {
		x, y, z := p.X-mx, p.Y-my, p.Z-mz
		xx, xy, yy, xz, yz = xx+x*x, xy+x*y, yy+y*y, xz+x*z, yz+y*z
	}
	det := xx*yy - xy*xy
	if det <= 1e-6*(xx+yy)*(xx+yy) {
		return Plane{}, errLine
	}
	a, b := (xz*yy-yz*xy)/det, (yz*xx-xz*xy)/det
	return Plane{At: mz - a*mx - b*my, X: a, Y: b}, nil
}

// Bow is the highest less the lowest of what is left beside a plane, in mm: no screw cures it.
func Bow(points []Point, p Plane) float64 {
	low, high := math.Inf(1), math.Inf(-1)
	for _, q := range points {
		d := q.Z - p.Z(q.X, q.Y)
		low, high = min(low, d), max(high, d)
	}
	return high - low
}

var tiltCalculator = Calculator{
	ID:      "tilt",
	Group:   "tilt",
	Title:   "Bed: tilt and its screws",
	Purpose: "How far each screw is turned to bring a bed level, and what no screw cures.",
	Caution: "Hands off while the machine probes. Turn screws with the motors off or held, hand out before anything moves.",
	Fields: []Field{
		{Name: "points", Ask: "Places and values", Kind: Points, Unit: "mm", Low: -20, High: 20,
			Least: 3,
			Hint:  "each as x y value, with ; between: 30 30 0.12; 220 30 -0.05; 125 220 0.02. x to the right, y to the back"},
		{
			Stays: true,
			Name:  "values",
			Ask:   "The values are",
			Kind:  Word,
			Usual: "heights",
			Options: []Option{
				{
					"heights",
					"heights of the bed, up is more",
				},
				{"gaps", "gaps below the nozzle (feeler)"},
			},
		},
		{Stays: true, Name: "screws", Ask: "Places of the screws", Kind: Points, Least: 3,
			Hint: "three or four, each as x y, with ; between: 20 20; 230 20; 125 230"},
		{Stays: true, Name: "pitch", Ask: "Rise of one turn", Unit: "mm", Low: 0.1, High: 8,
			Usual: "0.7", Hint: "M3 0.5, M4 0.7, M5 0.8"},
		{
			Stays: true,
			Name:  "clockwise",
			Ask:   "Clockwise from above",
			Kind:  Word,
			Usual: "lowers",
			Options: []Option{
				{"lowers", "lowers the bed there"}, {"raises", "raises the bed there"}},
		},
		{Stays: true, Name: "fixed", Ask: "Screw left alone", Low: 0, High: 4, Usual: "0",
			Hint: "1 to 4, by the order above; 0: all are turned, as little as can be"},
	},
	work: workTilt,
}

// leastTurn is less than a hand turns on purpose, as a share of a turn (from memory).
const leastTurn = 1.0 / 24

func workTilt(in In) (Result, error) {
	points, screws := in.Points("points"), in.Points("screws")
	if len(screws) > 4 {
		return Result{}, fmt.Errorf("three or four screws, not %d: give the place of each",
			len(screws))
	}
	fixed := int(in.Num("fixed"))
	if !model.Whole(in.Num("fixed")) || fixed > len(screws) {
		return Result{}, fmt.Errorf("the screw left alone is a whole number from 0 to %d",
			len(screws))
	}
	if _, err := FitPlane(screws); err != nil {
		return Result{}, errors.New(
			"the screws stand on one line: give three or four that span the bed")
	}
	if in.Word("values") == "gaps" {
		points = lowered(points)
	}
	plane, err := FitPlane(points)
	if err != nil {
		return Result{}, err
	}
	r := Result{Source: "least squares plane (Chapra and Canale); turns = height / rise of a turn",
		Tolerance: "a probe repeats within 0.01 to 0.02 mm, a feeler 0.02 (from memory); four screws on a stiff plate fight each other",
		Spoils:    "a dirty nozzle or plate, a bed not yet warm through, values taken at other temperatures, a loose plate"}
	r.row("spread", spread(points), "mm")
	bow := Bow(points, plane)
	turns := make([]float64, len(screws))
	for i, d := range corrections(plane, screws, fixed) {
		turns[i] = d / in.Num("pitch")
		if in.Word("clockwise") == "lowers" {
			turns[i] = -turns[i]
		}
		r.text(fmt.Sprintf("screw %d", i+1), turnWords(turns[i], d))
	}
	r.row("left after", bow, "mm")
	r.Grade = Good
	if bow > 0.3 {
		r.Grade = Doubtful
		r.say("%s mm stay whatever is turned: that is bow, not tilt; plate, magnet or dirt under it.", figure(bow))
	}
	r.say("Turn, measure again, turn what is left.")
	r.Picture = bedPicture(points, screws, turns)
	return r, nil
}

func lowered(points []Point) []Point {
	out := make([]Point, len(points))
	for i, p := range points {
		out[i] = Point{p.X, p.Y, -p.Z}
	}
	return out
}

// spread is the highest less the lowest of the values.
func spread(points []Point) float64 { return Bow(points, Plane{}) }

// corrections is by how many mm the bed must rise at each screw to lie level: at the height of the
// screw left alone, or with as little turning as can be.
func corrections(p Plane, screws []Point, fixed int) []float64 {
	heights := make([]float64, len(screws))
	low, high := math.Inf(1), math.Inf(-1)
	for i, s := range screws {
		heights[i] = p.Z(s.X, s.Y)
		low, high = min(low, heights[i]), max(high, heights[i])
	}
	level := (low + high) / 2
	if fixed > 0 {
		level = heights[fixed-1]
	}
	for i := range heights {
		heights[i] = level - heights[i]
	}
	return heights
}

// turnWords says a turn: "0.35 turn clockwise (down 0.25 mm)".
func turnWords(turns, rise float64) string {
	if math.Abs(turns) < leastTurn {
		return "leave it"
	}
	way, to := "clockwise", "up"
	if turns < 0 {
		way = "counter-clockwise"
	}
	if rise < 0 {
		to = "down"
	}
	return fmt.Sprintf("%.2f turn %s, %s %.2f mm", math.Abs(turns), way, to, math.Abs(rise))
}

// The size of the picture of a bed, in cells.
const pictureWide, pictureHigh = 41, 9

// bedPicture is a bed seen from above, the back at the top: values where they were read, the screws
// by number with the way they are turned, + clockwise and - counter-clockwise.
func bedPicture(points, screws []Point, turns []float64) []string {
	low, high := Point{math.Inf(1), math.Inf(1), 0}, Point{math.Inf(-1), math.Inf(-1), 0}
	for _, p := range append(append([]Point{}, points...), screws...) {
		low.X, low.Y = min(low.X, p.X), min(low.Y, p.Y)
		high.X, high.Y = max(high.X, p.X), max(high.Y, p.Y)
	}
	cells := make([][]byte, pictureHigh)
	for i := range cells {
		cells[i] = []byte(strings.Repeat(" ", pictureWide))
	}
	put := func(p Point, text string) {
		x := int((p.X - low.X) / max(high.X-low.X, 1e-9) * (pictureWide - 1))
		y := int((high.Y - p.Y) / max(high.Y-low.Y, 1e-9) * (pictureHigh - 1))
		x = max(0, min(x-len(text)/2, pictureWide-len(text)))
		for _, by := range []int{0, 1, -1, 2, -2} { // the next free line
			at := y + by
			if at < 0 || at >= pictureHigh {
				continue
			}
			if strings.TrimSpace(
				string(cells[at][max(0, x-1):min(pictureWide, x+len(text)+1)]),
			) == "" {
				copy(cells[at][x:], text)
				return
			}
		}
	}
	for i, s := range screws {
		sign := ""
		switch {
		case turns[i] >= leastTurn:
			sign = "+"
		case turns[i] <= -leastTurn:
			sign = "-"
		}
		put(s, fmt.Sprintf("(%d%s)", i+1, sign))
	}
	for _, p := range points {
		put(p, fmt.Sprintf("%+.2f", p.Z))
	}
	edge := "+" + strings.Repeat("-", pictureWide) + "+"
	out := []string{edge}
	for _, c := range cells {
		out = append(out, "|"+string(c)+"|")
	}
	return append(out, edge,
		"from above, back at the top; (1+) screw 1 clockwise, (1-) counter-clockwise")
}
