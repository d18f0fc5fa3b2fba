package measure

import (
	"math"
)

// Band is where a tone is looked for, in Hz.
type Band struct{ Low, High float64 }

// PlausibleTones is where the ground tone of a belt can lie, by its span in mm and mass in g per m
// and the pulls a belt is used at. Anything an octave off lies at a quarter or four times the pull.
func PlausibleTones(span, mass float64) Band {
	return Band{
		max(leastTone, Tone(span, mass, leastPull)),
		min(mostTone, Tone(span, mass, mostPull)),
	}
}

// AnyTone is where a tone is looked for when nothing is known of the belt.
var AnyTone = Band{leastTone, mostTone}

// Of the period, by de Cheveigne and Kawahara, "YIN, a fundamental frequency estimator for speech
// and music", JASA 111(4), 2002.
const (
	yinThreshold = 0.1 // of the normalised difference, over the least that noise leaves
	yinWorst     = 0.5 // above it there is no period
)

// period finds the period of a tone in samples: the difference function, its cumulative mean
// normalised (steps 2 and 3 of YIN), the first dip that comes close to the deepest (step 4) and a
// parabola through it (step 5). The threshold stands over the deepest dip, and not over 0: noise
// lifts them all alike. unlike is the dip, 0 for a perfect repetition; ok is false where there is
// none.
func period(x []float64, least, most int) (lag, unlike float64, ok bool) {
	most = min(most, len(x)/2)
	if least < 2 || most <= least+1 {
		return 0, 1, false
	}
	d := normalised(difference(x, most+1))
	deepest := 1.0
	for t := least; t <= most; t++ {
		deepest = min(deepest, d[t])
	}
	if !(deepest <= yinWorst) {
		return 0, deepest, false
	}
	for t := least; t <= most; t++ {
		if d[t] > deepest+yinThreshold || d[t] > d[t+1] || d[t] > d[t-1] {
			continue
		}
		return t0(d, t), d[t], true
	}
	return 0, deepest, false
}

// difference is the sum of squared differences of x and x shifted, by shift.
func difference(x []float64, most int) []float64 {
	d := make([]float64, most+1)
	n := len(x) - most
	for t := 1; t <= most; t++ {
		sum := 0.0
		for i, v := range x[:n] {
			e := v - x[i+t]
			sum += e * e
		}
		d[t] = sum
	}
	return d
}

// normalised divides each difference by the mean of those up to it.
func normalised(d []float64) []float64 {
	out := make([]float64, len(d))
	out[0] = 1
	sum := 0.0
	for t := 1; t < len(d); t++ {
		sum += d[t]
		out[t] = 1
		if sum > 0 {
			out[t] = d[t] * float64(t) / sum
		}
	}
	return out
}

// t0 is the place of a dip between samples, by the parabola through it and its neighbours.
func t0(d []float64, t int) float64 {
	a, b, c := d[t-1], d[t], d[t+1]
	bend := a - 2*b + c
	if bend <= 0 {
		return float64(t)
	}
	return float64(t) + (a-c)/(2*bend)
}

// ground sharpens a tone near f: what turns at f is brought to rest, and how it still turns is
// measured by its phase, from window to window; then once more round the tone so found. A stiff
// belt's overtones are sharp and pull the period with them, and a tone that dies away shortens it;
// its ground tone alone is not moved. f comes back where the ground tone is too weak, or turns
// further than a period's error can be.
func ground(x []float64, rate, f float64) float64 {
	at := f
	for range 2 {
		next, ok := turning(x, rate, at)
		if !ok || !(math.Abs(next/f-1) <= mostOff) {
			return f
		}
		at = next
	}
	return at
}

// mostOff is how far off a period can be, as a share: a low tone that dies away at once.
const mostOff = 0.1

// turning is the tone of what turns near f, by the slope of its phase.
func turning(x []float64, rate, f float64) (float64, bool) {
	window := int(3 * rate / f)
	hop := max(1, window/4)
	var phase, weight, at []float64
	last := 0.0
	for from := 0; from+window <= len(x); from += hop {
		re, im := turned(x[from:from+window], from, f/rate)
		p := math.Atan2(im, re)
		if len(phase) > 0 {
			p += 2 * math.Pi * math.Round((last-p)/(2*math.Pi))
		}
		last = p
		phase, weight = append(phase, p), append(weight, re*re+im*im)
		at = append(at, float64(from)/rate)
	}
	slope, ok := weightedSlope(at, phase, weight)
	return f + slope/(2*math.Pi), ok
}

// turned is the mean of x under a bell (Hann) after turning it back by f cycles a sample.
func turned(x []float64, from int, f float64) (re, im float64) {
	n := float64(len(x))
	for i, v := range x {
		bell := v * (1 - math.Cos(2*math.Pi*(float64(i)+0.5)/n))
		s, c := math.Sincos(2 * math.Pi * f * float64(from+i))
		re += bell * c
		im -= bell * s
	}
	return re, im
}

// weightedSlope is that of the line through some points by least squares.
func weightedSlope(x, y, w []float64) (slope float64, ok bool) {
	var sw, sx, sy, sxx, sxy float64
	for i := range x {
		sw += w[i]
		sx += w[i] * x[i]
		sy += w[i] * y[i]
		sxx += w[i] * x[i] * x[i]
		sxy += w[i] * x[i] * y[i]
	}
	det := sw*sxx - sx*sx
	if len(x) < 4 || !(det > 0) {
		return 0, false
	}
	return (sw*sxy - sx*sy) / det, true
}

// workRate is enough for the tones of belts and their first overtones, in samples a second.
const workRate = 12000

// slower brings a recording down to about workRate: a mean over the taps of a smooth low pass
// (windowed sinc) at each sample that is kept.
func slower(s Sound) Sound {
	by := int(s.Rate / workRate)
	if by < 2 {
		return s
	}
	half := 8 * by
	taps := make([]float64, 2*half+1)
	sum := 0.0
	for i := range taps {
		t := float64(i - half)
		v := 0.5 + 0.5*math.Cos(math.Pi*t/float64(half+1))
		if t != 0 {
			a := math.Pi * t / float64(by) * 0.9
			v *= math.Sin(a) / a
		}
		taps[i] = v
		sum += v
	}
	out := make([]float64, 0, len(s.Samples)/by+1)
	for at := 0; at < len(s.Samples); at += by {
		v := 0.0
		for i, tap := range taps {
			if j := at + i - half; j >= 0 && j < len(s.Samples) {
				v += tap * s.Samples[j]
			}
		}
		out = append(out, v/sum)
	}
	return Sound{Rate: s.Rate / float64(by), Samples: out, Step: s.Step}
}
