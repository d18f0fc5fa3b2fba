package measure

import (
	"fmt"
	"math"
	"math/rand"
	"strings"
	"testing"

	"bench/oilcan/store/storetest"
)

// plucked is a synthetic recording: a quiet room, then plucks of a stiff string. Partial n lies at
// n f sqrt(1+B n²), scaled so that the first is the ground tone; each dies away faster the higher
// it is. Noise is white, decibels below the loudest 50 ms of a pluck.
type plucked struct {
	rate, tone, stiff, noise float64
	plucks                   int
	decay                    float64 // s to 1/e, of the ground tone
	partials                 []float64
	every                    float64
	hum                      float64 // Hz, half as loud as a pluck; 0 none
}

func (p plucked) sound(seed int64) Sound {
	r := rand.New(rand.NewSource(seed))
	n := int((float64(p.plucks)*p.every + 0.5) * p.rate)
	x := make([]float64, n)
	for k := range p.plucks {
		at := int((0.4 + float64(k)*p.every) * p.rate)
		for i := at; i < n; i++ {
			t := float64(i-at) / p.rate
			for h, level := range p.partials {
				m := float64(h + 1)
				f := m * p.tone * math.Sqrt((1+p.stiff*m*m)/(1+p.stiff))
				if f < p.rate/2 {
					x[i] += 0.15 * level * math.Exp(-t*m/p.decay) * math.Sin(2*math.Pi*f*t+m) * min(
						1, t/0.002)
				}
			}
		}
	}
	at := int(0.4 * p.rate)
	power := 0.0
	for _, v := range x[at : at+int(0.05*p.rate)] {
		power += v * v
	}
	level := math.Sqrt(power/(0.05*p.rate)) * math.Pow(10, -p.noise/20)
	for i := range x {
		x[i] += level * r.NormFloat64()
		if p.hum > 0 {
			x[i] += 0.1 * math.Sin(2*math.Pi*p.hum*float64(i)/p.rate)
		}
	}
	return Sound{Rate: p.rate, Samples: x, Step: 1.0 / 32768}
}

// Half a per cent on plucks with decay, overtones out of tune, overtones louder than the ground
// tone, and noise 10 dB below: what is asked of the whole way from samples to a number. Without
// OILCAN_LONG it hears each third.
func TestHearPlucks(t *testing.T) {
	soft := []float64{1, 0.5, 0.33, 0.2, 0.1}
	bright := []float64{0.6, 1, 0.8, 0.5, 0.3, 0.2}
	worst, n, nth := 0.0, 0, storetest.Times(3, 1, 1)
	for _, rate := range []float64{8000, 44100, 96000} {
		for i, tone := range []float64{38.5, 62.3, 110.2, 203.7, 523.9} {
			if rate > 48000 && i%2 == 0 {
				continue
			}
			for _, stiff := range []float64{0, 0.003} {
				for j, partials := range [][]float64{soft, bright} {
					if n++; n%nth != 0 {
						continue
					}
					p := plucked{rate: rate, tone: tone, stiff: stiff, noise: 10, plucks: 3,
						decay: 0.35, partials: partials, every: 1.2}
					h, err := Hear(p.sound(int64(i*7+j)), AnyTone, 0)
					if err != nil {
						t.Errorf("%+v: %v", p, err)
						continue
					}
					off := math.Abs(h.Tone/tone - 1)
					worst = max(worst, off)
					if off > 0.005 || len(h.Plucks) != 3 {
						t.Errorf("rate %.0f tone %.1f stiff %g partials %d: heard %.2f Hz of %v, %.2f %% off", rate, tone, stiff, j, h.Tone, h.Plucks, 100*off)
					}
				}
			}
		}
	}
	t.Logf("worst %.3f %%", 100*worst)
}

func TestHearRefuses(t *testing.T) {
	base := plucked{rate: 44100, tone: 110, noise: 20, plucks: 3, decay: 0.3,
		partials: []float64{1, 0.5, 0.3}, every: 1}
	steadyHum := func(f float64) Sound {
		s := Sound{Rate: 44100, Samples: make([]float64, 3*44100), Step: 1.0 / 32768}
		r := rand.New(rand.NewSource(1))
		for i := range s.Samples {
			a := 2 * math.Pi * f * float64(i) / s.Rate
			s.Samples[i] = 0.2*math.Sin(a) + 0.1*math.Sin(2*a) + 0.002*r.NormFloat64()
		}
		return s
	}
	loud := base.sound(1)
	for i, v := range loud.Samples {
		loud.Samples[i] = min(0.1, max(-0.1, v))
	}
	noise := Sound{Rate: 44100, Samples: make([]float64, 2*44100)}
	r := rand.New(rand.NewSource(2))
	for i := range noise.Samples {
		noise.Samples[i] = 0.1 * r.NormFloat64()
	}
	for name, c := range map[string]struct {
		s    Sound
		says string
	}{
		"silence":   {Sound{Rate: 44100, Samples: make([]float64, 88200)}, "silent"},
		"50 Hz":     {steadyHum(50), "mains hum"},
		"60 Hz":     {steadyHum(60), "mains hum"},
		"clipped":   {loud, "clipped"},
		"noise":     {noise, "no pluck"},
		"too short": {Sound{Rate: 44100, Samples: make([]float64, 441)}, "too short"},
	} {
		if h, err := Hear(c.s, AnyTone, 0); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v, %+v; want %q", name, err, h, c.says)
		}
	}
}

// A loud hum below the plucks is said, and gives no number; plucks in one recording are told apart.
func TestHearBesideHum(t *testing.T) {
	p := plucked{rate: 44100, tone: 132, noise: 20, plucks: 5, decay: 0.3,
		partials: []float64{1, 0.5, 0.3}, every: 0.8, hum: 50}
	if h, err := Hear(
		p.sound(3),
		Band{70, 600},
		0,
	); err == nil ||
		!strings.Contains(err.Error(), "hum covers") {
		t.Errorf("%+v, %v", h, err)
	}
	for n := 1; n <= 6; n++ {
		p := plucked{rate: 22050, tone: 95, noise: 15, plucks: n, decay: 0.3,
			partials: []float64{1, 0.6}, every: 0.9}
		h, err := Hear(p.sound(4), AnyTone, 0)
		if err != nil || len(h.Plucks) != n {
			t.Errorf("%d plucks: %v, %v", n, h.Plucks, err)
		}
	}
}

// A string whose ground tone is nearly gone sounds an octave up: the range of pulls a belt is used
// at, by span and mass, leaves no room for it, or says so.
func TestOctave(t *testing.T) {
	p := plucked{rate: 44100, tone: 110, noise: 25, plucks: 3, decay: 0.3,
		partials: []float64{0.05, 1, 0.03, 0.3}, every: 1}
	h, err := Hear(p.sound(5), Band{70, 180}, 0)
	if err != nil || math.Abs(h.Tone/110-1) > 0.01 {
		t.Errorf("within the band: %+v, %v", h, err)
	}
	p.partials = []float64{0, 1, 0, 0.3}
	h, err = Hear(p.sound(5), AnyTone, 110)
	if err != nil || !h.Octave || h.Sure != Doubtful {
		t.Errorf("beside its record: %+v, %v", h, err)
	}
}

func ExampleTone() {
	fmt.Printf("%.2f Hz", Tone(1028, 8.4*28, 1050))
	// Output: 32.50 Hz
}
