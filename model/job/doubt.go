package job

import (
	"fmt"
	"math"

	"bench/oilcan/model"
)

// Doubts say, a sentence each without its end, why the figures of a report cannot be right, or may
// not be. Diameters of filament and nozzle are in mm; 0: not known, and then the filament is taken
// to be of the common Diameter.
func Doubts(r *Report, filament, nozzle float64) []string {
	var out []string
	say := func(text string) {
		if text != "" {
			out = append(out, text)
		}
	}
	say(unpushed(r))
	say(hotAtEnd(r))
	if filament <= 0 {
		filament = Diameter
	}
	say(otherFilament(r, filament, nozzle))
	return out
}

// manyMoves are more than a start routine has.
const manyMoves = 1000

// unpushed says that no filament is counted where there must be some.
func unpushed(r *Report) string {
	const missing = "its filament and layers are not counted"
	times := func(names ...string) (n int64) {
		for _, c := range r.Unknown {
			for _, name := range names {
				if c.Name == name {
					n += c.N
				}
			}
		}
		return n
	}
	var pushed Length
	for _, f := range r.Filament {
		pushed += f.Pushed
	}
	switch beside := times("G0 A", "G1 A", "G0 B", "G1 B", "G2 A", "G3 A", "A", "B"); {
	case r.Moves == 0:
		return "nothing moves in it: it is no print, or its movement is in macros that are not read"
	case beside > 0 && beside*10 > r.Moves:
		return fmt.Sprintf(
			"%s moves have an A or B, which are not read: where filament is on them, %s",
			model.Number(float64(beside)),
			missing,
		)
	case pushed > 0:
		return ""
	case times("M101") > 0 && times("M103") > 0:
		return "it switches the filament drive on and off (M101, M103) and gives no lengths: " +
			missing
	case r.Moves >= manyMoves:
		return fmt.Sprintf(
			"%s moves and no filament: it is no print, or it is on a letter that is not read",
			model.Number(float64(r.Moves)),
		)
	}
	return ""
}

// hotAtEnd says that the file does not switch the nozzle off.
func hotAtEnd(r *Report) string {
	if r.HotAtEnd < handWarm || r.Moves == 0 {
		return ""
	}
	return fmt.Sprintf(
		"the nozzle is still held at %s °C at its end: it may be cut off",
		model.Number(r.HotAtEnd),
	)
}

// handWarm, in degrees Celsius: no nozzle is switched off at more.
const handWarm = 50

// Filament diameters there are, in mm (common practice), and how wide a line is against its nozzle:
// it is laid at 0.8 to 1.6 times the bore (from memory).
var (
	diameters            = []float64{1.75, 2.85}
	tooThin, tooWide     = 0.6, 2.2
	leastNozzle, mostOne = 0.2, 1.0 // mm, of the nozzles there are
)

// otherFilament says that lines would come out far too thin or too wide, and that filament of
// another diameter would make them as they should be.
func otherFilament(r *Report, filament, nozzle float64) string {
	if d := r.VolumeDiameter; d > 0 && math.Abs(d-filament) > 0.3 {
		return fmt.Sprintf("it is made for filament of %s mm (M200), and %s mm is loaded",
			model.Figure(d), model.Figure(filament))
	}
	thin, wide := leastNozzle, mostOne
	if nozzle > 0 {
		thin, wide = tooThin*nozzle, tooWide*nozzle
	}
	width := r.lineWidth(filament)
	if math.IsNaN(width) || width >= thin && width <= wide {
		return ""
	}
	for _, d := range diameters {
		if other := r.lineWidth(d); other >= thin && other <= wide && math.Abs(d-filament) > 0.3 {
			return fmt.Sprintf(
				"with filament of %s mm its lines would be %.2f mm wide: it seems made for %s mm",
				model.Figure(filament),
				width,
				model.Figure(d),
			)
		}
	}
	return ""
}

// lineWidth is how wide the lines of a print are in mm, with round filament of a diameter in mm:
// its volume over the length laid and the height of a layer. NaN where too little is laid to tell.
func (r *Report) lineWidth(diameter float64) float64 {
	var used Length
	for _, f := range r.Filament {
		used += f.Used()
	}
	if r.LayerHeight <= 0 || r.Laid.Metres() < 1 || r.VolumeDiameter > 0 {
		return math.NaN()
	}
	return Volume(used, diameter) * 1000 / (r.Laid.MM() * r.LayerHeight.MM())
}

// FlowText says by how much M221 changes what is pushed: "flow 95 %"; "" where nothing does.
func (r *Report) FlowText() string {
	low, high := r.Flow[0], r.Flow[1]
	if low == 100 && high == 100 || high == 0 {
		return ""
	}
	text := model.Number(low)
	if low != high {
		text += "–" + model.Number(high)
	}
	return "flow " + text + " %"
}
