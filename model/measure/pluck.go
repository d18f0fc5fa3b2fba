package measure

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"bench/oilcan/model"
)

// Pluck is one tone in a recording.
type Pluck struct {
	At     float64 `json:"at"`     // s from the beginning
	Tone   float64 `json:"tone"`   // Hz
	Unlike float64 `json:"unlike"` // how far it is from repeating itself, 0 perfect to 1 none
}

// Heard is what a recording has: its plucks, and what they come to together.
type Heard struct {
	Plucks []Pluck  `json:"plucks"`
	Tone   float64  `json:"tone"`   // Hz, the middle of the plucks
	Spread float64  `json:"spread"` // of the plucks, highest less lowest, as a share of the tone
	Sure   Grade    `json:"sure"`
	Says   []string `json:"says"`
	// plucks left out: clipped, hum, no tone, an octave off
	Dropped int  `json:"dropped,omitempty"`
	Octave  bool `json:"octave,omitempty"` // all are about twice, or half, what was expected
}

// What makes plucks sure, from memory: three of them within 1 %.
const (
	surePlucks = 3
	sureSpread = 0.01
	poorSpread = 0.05 // beyond it the plucks are not of one belt and place
	noneSpread = 0.2  // beyond it they are something else, such as talk
)

// What a recording must be, from memory.
const (
	silence    = 0.001 // of full scale: nothing was recorded
	frameTime  = 0.04  // s, over which loudness is taken
	frameHop   = 0.01  // s
	rise       = 1.6   // by which a pluck is louder than just before
	overFloor  = 1.7   // by which it is louder than the quiet of the recording
	skipTime   = 0.015 // s of the blow itself
	leastTime  = 0.08  // s of tone that a period is found in
	pluckTime  = 0.35  // s of it that are looked at
	groundTime = 1.0   // s of it by which the ground tone is sharpened
	humShare   = 0.015 // how near a hum's tone is to the mains, as a share
	humKeeps   = 0.5   // a tone that is as loud before the blow is no pluck
	clippedRun = 4     // samples in a row at one highest value
)

// Hear finds the plucks of a recording and their tones within a band; near is a tone that is
// expected, by which an octave is told, 0 where none is. What gives no number is an error that says
// why: silence, hum, clipping, no tone.
func Hear(s Sound, band Band, near float64) (Heard, error) {
	peak := 0.0
	for _, v := range s.Samples {
		peak = max(peak, math.Abs(v))
	}
	switch {
	case s.Seconds() < leastTime+2*frameTime:
		return Heard{}, errors.New(
			"the recording is too short for a tone: record three plucks, a second apart")
	case peak < silence:
		return Heard{},
			errors.New("the recording is silent: hold the phone within 2 cm of the belt's middle and record again")
	}
	work := slower(s)
	loud := loudness(work)
	blows := onsets(loud)
	if len(blows) == 0 {
		return Heard{}, noPluck(work)
	}
	var h Heard
	why := map[string]int{}
	for i, at := range blows {
		end := len(loud)
		if i+1 < len(blows) {
			end = blows[i+1]
		}
		p, bad := oneTone(s, work, at, end, band)
		if bad != "" {
			why[bad]++
			h.Dropped++
			continue
		}
		h.Plucks = append(h.Plucks, p)
	}
	if len(h.Plucks) == 0 {
		return Heard{}, nothingLeft(why)
	}
	h.together(near)
	if h.Spread > noneSpread {
		return Heard{}, fmt.Errorf("the sounds lie %s %% apart: these are no plucks of one belt; "+
			"record three, a second apart, in a quiet room", figure(100*h.Spread))
	}
	h.words(why)
	return h, nil
}

// loudness is the root mean square of a recording from frame to frame.
func loudness(s Sound) []float64 {
	n, hop := int(frameTime*s.Rate), int(frameHop*s.Rate)
	var out []float64
	for from := 0; from+n <= len(s.Samples); from += hop {
		sum := 0.0
		for _, v := range s.Samples[from : from+n] {
			sum += v * v
		}
		out = append(out, math.Sqrt(sum/float64(n)))
	}
	return out
}

// onsets are the frames at which it grows loud at once, and is well over the quiet of the
// recording. A recording that begins with a tone begins with a pluck.
func onsets(loud []float64) []int {
	quiet := slices.Sorted(slices.Values(loud))[len(loud)/10]
	most := slices.Max(loud)
	floor := max(overFloor*quiet, most/20)
	back := int(frameTime/frameHop) + 2
	var out []int
	for i := back; i < len(loud); i++ {
		before := slices.Min(loud[i-back : i-1])
		if loud[i] < floor || loud[i] < rise*before {
			continue
		}
		for i+1 < len(loud) && loud[i+1] > loud[i]*1.02 { // up to where it is loudest
			i++
		}
		if n := len(out); n > 0 && i-out[n-1] < 2*back {
			out[n-1] = i
			continue
		}
		out = append(out, i)
		i += back
	}
	head := slices.Max(loud[:min(len(loud), back)])
	if later := loud[len(loud)-1]; head > 0.5*most && head > 2*later &&
		(len(out) == 0 || out[0] > 2*back) {
		out = append([]int{0}, out...)
	}
	return out
}

// oneTone finds the tone behind a blow, up to the next one; bad says in a word why there is none.
func oneTone(s, work Sound, at, end int, band Band) (p Pluck, bad string) {
	hop := int(frameHop * work.Rate)
	from := at*hop + int(skipTime*work.Rate)
	to := min(end*hop-hop, len(work.Samples), from+int(groundTime*work.Rate))
	if to-from < int(leastTime*work.Rate) {
		return p, "short"
	}
	begin := float64(at*hop) / work.Rate
	if clipped(s, begin, begin+0.1) {
		return p, "clipped"
	}
	x := centred(work.Samples[from:min(to, from+int(pluckTime*work.Rate))])
	lag, unlike, ok := period(x, int(work.Rate/band.High), int(math.Ceil(work.Rate/band.Low)))
	if !ok && humBefore(work, at*hop) {
		return p, "hum"
	}
	if !ok {
		return p, "no tone"
	}
	tone := ground(centred(work.Samples[from:to]), work.Rate, work.Rate/lag)
	if humming(tone) && steady(work, at*hop, from, tone) {
		return p, "hum"
	}
	if tone < band.Low || tone > band.High {
		return p, "no tone"
	}
	return Pluck{At: begin, Tone: tone, Unlike: unlike}, ""
}

// centred takes the mean off.
func centred(x []float64) []float64 {
	sum := 0.0
	for _, v := range x {
		sum += v
	}
	out := make([]float64, len(x))
	for i, v := range x {
		out[i] = v - sum/float64(len(x))
	}
	return out
}

// clipped tells whether a stretch was recorded too loud: its highest value stands for longer than
// the top of any wave would, by the steps a sample can take.
func clipped(s Sound, from, to float64) bool {
	a, b := int(from*s.Rate), min(int(to*s.Rate), len(s.Samples))
	x := s.Samples[min(a, b):b]
	most, least := 0.0, 0.0
	for _, v := range x {
		most, least = max(most, v), min(least, v)
	}
	at, run, long := 0, 0, 0
	for i, v := range x {
		if v != most && v != least {
			run = 0
			continue
		}
		at++
		if i > 0 && x[i-1] == v {
			run++
		} else {
			run = 1
		}
		long = max(long, run)
	}
	// a sine's share within a step of its top
	top := math.Sqrt(2*max(s.Step, 1e-7)/max(most, -least, 1e-9)) / math.Pi
	return long >= clippedRun && float64(at) > (2*top+0.005)*float64(len(x))
}

// mains are the tones of mains hum.
var mains = []float64{50, 60, 100, 120, 150, 180}

// humming tells whether a tone is one of the mains.
func humming(tone float64) bool {
	return slices.ContainsFunc(mains, func(m float64) bool { return math.Abs(tone/m-1) < humShare })
}

// steady tells whether a tone was there before the blow as loud as behind it.
func steady(s Sound, blow, from int, tone float64) bool {
	n := int(4 * s.Rate / tone)
	blow -= int(frameTime * s.Rate)
	if blow-n < 0 || from+n > len(s.Samples) {
		return false
	}
	a, b := turned(s.Samples[blow-n:blow], 0, tone/s.Rate)
	c, d := turned(s.Samples[from:from+n], 0, tone/s.Rate)
	return math.Hypot(a, b) > humKeeps*math.Hypot(c, d)
}

// humBefore tells whether there was a tone of the mains before a blow.
func humBefore(s Sound, blow int) bool {
	end := blow - int(2*frameTime*s.Rate)
	begin := max(0, end-int(pluckTime*s.Rate))
	if end-begin < int(leastTime*s.Rate) {
		return false
	}
	return hummed(centred(s.Samples[begin:end]), s.Rate)
}

// hummed tells whether samples have the tone of the mains.
func hummed(x []float64, rate float64) bool {
	lag, _, ok := period(x, int(rate/200), int(math.Ceil(rate/45)))
	return ok && humming(ground(x, rate, rate/lag))
}

// noPluck says what a recording without plucks has.
func noPluck(s Sound) error {
	mid := len(s.Samples) / 2
	half := int(pluckTime * s.Rate)
	if x := centred(s.Samples[max(0, mid-half):min(len(s.Samples), mid+half)]); hummed(x, s.Rate) {
		return errors.New("there is a steady mains hum of 50 or 60 Hz and no pluck: go further from what hums and pluck again")
	}
	return errors.New("there is no pluck in the recording, only a steady sound: record three plucks, a second apart, in a quiet room")
}

// nothingLeft says why none of the plucks gave a tone.
func nothingLeft(why map[string]int) error {
	switch {
	case why["clipped"] > 0:
		return errors.New("the recording is clipped, too loud for the microphone: hold it further off, pluck softer, record again")
	case why["hum"] > 0:
		return errors.New("mains hum covers the plucks: go further from what hums, pluck closer to the microphone")
	case why["short"] > 0 && why["no tone"] == 0:
		return errors.New("the plucks ring too short or follow too fast: a second between them, nothing touching the belt")
	}
	return errors.New("no clear tone in the range of this belt: quiet the room, pluck softly mid-span, and look whether span and mass are right")
}

// together brings the plucks to one tone. Those an octave off what is expected, or off the middle
// of them, are left out, unless none would be left.
func (h *Heard) together(near float64) {
	mid := near
	if mid == 0 {
		mid = median(tones(h.Plucks))
	}
	kept := slices.DeleteFunc(slices.Clone(h.Plucks), func(p Pluck) bool {
		return octaveApart(p.Tone, mid)
	})
	if len(kept) > 0 {
		h.Dropped += len(h.Plucks) - len(kept)
		h.Plucks = kept
	}
	list := tones(h.Plucks)
	h.Tone = median(list)
	h.Spread = (slices.Max(list) - slices.Min(list)) / h.Tone
	h.Octave = near > 0 && octaveApart(h.Tone, near)
}

func tones(list []Pluck) []float64 {
	out := make([]float64, len(list))
	for i, p := range list {
		out[i] = p.Tone
	}
	return out
}

// words says how sure the tone is.
func (h *Heard) words(why map[string]int) {
	h.Sure = Good
	doubt := func(format string, args ...any) {
		h.Sure = Doubtful
		h.Says = append(h.Says, fmt.Sprintf(format, args...))
	}
	if len(h.Plucks) < surePlucks {
		doubt("Only %s with a clear tone: three make it sure.", model.Counted(len(h.Plucks), "pluck"))
	}
	switch {
	case h.Spread > poorSpread:
		doubt("The plucks lie %s %% apart: not one belt, or not one place; record again.",
			figure(100*h.Spread))
	case h.Spread > sureSpread:
		doubt("The plucks lie %s %% apart; within 1 %% is good (from memory).",
			figure(100*h.Spread))
	}
	if h.Octave {
		doubt("The tone is about twice, or half, what was expected: that is the octave; pluck softer, mid-span.")
	}
	if n := why["clipped"]; n > 0 {
		h.Says = append(h.Says, fmt.Sprintf("Left out, too loud for the microphone: %s.",
			model.Counted(n, "pluck")))
	}
	if n := why["hum"]; n > 0 {
		h.Says = append(h.Says, fmt.Sprintf("Left out, mains hum: %s.", model.Counted(n, "pluck")))
	}
	if humming(h.Tone) {
		h.Says = append(h.Says,
			"The tone lies on that of mains hum: pluck once more with everything near switched off.")
	}
}

// figure is a value in a sentence.
func figure(v float64) string { return model.Figure(Round(v)) }

// With adds to a result what the recording says of it.
func (h Heard) With(r Result) Result {
	within := max(leastSpread, 100*h.Spread)
	r.Rows = append(r.Rows, Row{Name: "heard",
		Text: fmt.Sprintf("%s within %s %%", model.Counted(len(h.Plucks), "pluck"), figure(within))})
	r.Says = append(append([]string{}, h.Says...), r.Says...)
	r.Grade = worse(r.Grade, h.Sure)
	r.Source += "; tone by YIN (de Cheveigne and Kawahara 2002), sharpened by phase"
	return r
}

// leastSpread is the least spread that is said, in %.
const leastSpread = 0.1
