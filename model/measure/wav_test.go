package measure

import (
	"bytes"
	"encoding/binary"
	"math"
	"strings"
	"testing"
)

// wave writes a WAVE file of some channels: the form is that of the RIFF description of 1991 and
// its extension of 2001 (mmreg.h), written here apart from the reader.
func wave(code, bits, rate int, extended bool, chans ...[]float64) []byte {
	var data bytes.Buffer
	for i := range chans[0] {
		for _, c := range chans {
			v := c[i]
			switch {
			case code == 3 && bits == 64:
				binary.Write(&data, binary.LittleEndian, v)
			case code == 3:
				binary.Write(&data, binary.LittleEndian, float32(v))
			case bits == 8:
				data.WriteByte(byte(math.Round(v*127) + 128))
			default:
				n := int32(math.Round(v * (math.Ldexp(1, bits-1) - 1)))
				for b := 0; b < bits; b += 8 {
					data.WriteByte(byte(n >> b))
				}
			}
		}
	}
	var f bytes.Buffer
	tag := code
	if extended {
		tag = 0xFFFE
	}
	for _, x := range []any{uint16(tag), uint16(len(chans)), uint32(rate),
		uint32(rate * bits / 8 * len(chans)),
		uint16(bits / 8 * len(chans)), uint16(bits)} {
		binary.Write(&f, binary.LittleEndian, x)
	}
	if extended {
		for _, x := range []any{uint16(22), uint16(bits), uint32(0), uint16(code),
			[14]byte{0, 0, 0, 0, 0x10}} {
			binary.Write(&f, binary.LittleEndian, x)
		}
	}
	var out bytes.Buffer
	chunk := func(id string, b []byte) {
		out.WriteString(id)
		binary.Write(&out, binary.LittleEndian, uint32(len(b)))
		out.Write(b)
		if len(b)%2 == 1 {
			out.WriteByte(0)
		}
	}
	chunk("LIST", []byte("odd")) // a chunk of odd length, that nobody asked for
	chunk("fmt ", f.Bytes())
	chunk("data", data.Bytes())
	head := append([]byte("RIFF\x00\x00\x00\x00WAVE"), out.Bytes()...)
	binary.LittleEndian.PutUint32(head[4:], uint32(len(head)-8))
	return head
}

func ramp(n int) []float64 {
	x := make([]float64, n)
	for i := range x {
		x[i] = 0.8 * math.Sin(float64(i)/7)
	}
	return x
}

func TestReadWAV(t *testing.T) {
	x, low := ramp(500), make([]float64, 500)
	for _, c := range []struct {
		code, bits int
		extended   bool
	}{{1, 8, false}, {1, 16, false}, {1, 24, false}, {1, 24, true}, {1, 32, true}, {3, 32, false},
		{3, 32, true}, {3, 64, false}} {
		for _, rate := range []int{8000, 44100, 192000} {
			s, err := ReadWAV(bytes.NewReader(wave(c.code, c.bits, rate, c.extended, low, x)))
			if err != nil || s.Rate != float64(rate) || len(s.Samples) != len(x) {
				t.Errorf("%+v: %v, %d samples at %.0f", c, err, len(s.Samples), s.Rate)
				continue
			}
			for i, v := range s.Samples {
				if math.Abs(v-x[i]) > math.Ldexp(2, -min(c.bits, 24)+1) {
					t.Errorf("%+v: sample %d is %g, want %g", c, i, v, x[i])
					break
				}
			}
		}
	}
}

// Files written to a pipe have their lengths open; files of a phone that died are cut.
func TestReadWAVCut(t *testing.T) {
	whole := wave(1, 16, 44100, false, ramp(500))
	at := bytes.Index(whole, []byte("data"))
	open := bytes.Clone(whole)
	binary.LittleEndian.PutUint32(open[at+4:], 0xFFFFFFFF)
	for name, c := range map[string]struct {
		file []byte
		n    int
	}{"open": {open, 500}, "cut": {whole[:len(whole)-301], 349}} {
		if s, err := ReadWAV(bytes.NewReader(c.file)); err != nil || len(s.Samples) != c.n {
			t.Errorf("%s: %d samples, %v", name, len(s.Samples), err)
		}
	}
	for name, c := range map[string]struct {
		file []byte
		says string
	}{
		"text":     {[]byte("this is not a recording at all"), "no WAV"},
		"empty":    {nil, "no WAV"},
		"packed":   {wave(2, 16, 44100, false, ramp(10)), "packed"},
		"no data":  {whole[:at], "no samples"},
		"rate 0":   {wave(1, 16, 0, false, ramp(10)), "samples in a second"},
		"no chans": {bytes.Replace(whole, []byte{1, 0, 1, 0}, []byte{1, 0, 0, 0}, 1), "channels"},
	} {
		if s, err := ReadWAV(
			bytes.NewReader(c.file),
		); err == nil ||
			!strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %d samples, %v", name, len(s.Samples), err)
		}
	}
	for n := range whole { // wherever it is cut, it is read or refused
		_, _ = ReadWAV(bytes.NewReader(whole[:n]))
	}
}

// A floating point recording that was damaged holds numbers no microphone gives: they count as
// silence, and what is left is heard or refused.
func TestDamagedSamples(t *testing.T) {
	x := plucked{rate: 24000, tone: 110, noise: 20, plucks: 2, decay: 0.3, partials: []float64{1},
		every: 1}.sound(1).Samples
	for i := 0; i < len(x); i += 50 {
		x[i] = []float64{math.NaN(), math.Inf(1), 1e300, -1e30}[i/50%4]
	}
	for _, bits := range []int{32, 64} {
		s, err := ReadWAV(bytes.NewReader(wave(3, bits, 24000, false, x)))
		if err != nil {
			t.Fatal(err)
		}
		if h, err := Hear(s, AnyTone, 0); err == nil && math.IsNaN(h.Tone) {
			t.Errorf("%+v", h)
		}
	}
}
