package measure

import (
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"math"
)

// Sound is one channel of a recording.
type Sound struct {
	Rate    float64   // samples in a second
	Samples []float64 // -1 to 1
	Step    float64   // the smallest step a sample can take; 0 for floating point
}

// Seconds is how long it lasts.
func (s Sound) Seconds() float64 { return float64(len(s.Samples)) / s.Rate }

// MostSound is the size in bytes of the largest recording that is read: ten minutes of plucks at a
// common rate.
const MostSound = 128 << 20

var errNoWAV = errors.New("this is no WAV file: save the recording as WAV, PCM or floating point")

// ReadWAV reads a RIFF or RF64 WAVE file: PCM of 8, 16, 24 and 32 bit, floating point of 32 and 64
// bit, any rate, any number of channels, of which the loudest is given. A file that was cut, or
// written to a pipe without its lengths, is read as far as it goes.
//
// The reader is our own: github.com/go-audio/wav 1.1.0 was tried on files of one tone by a tool and
// read floating point as whole numbers, 8 bit without its offset, and nothing at all of a file
// whose lengths were left open.
func ReadWAV(r io.Reader) (Sound, error) {
	data, err := io.ReadAll(io.LimitReader(r, MostSound+1))
	if err != nil {
		return Sound{}, err
	}
	if len(data) > MostSound {
		return Sound{}, fmt.Errorf("the recording is larger than %d MB: cut it to the plucks",
			MostSound>>20)
	}
	if len(data) < 12 || string(data[8:12]) != "WAVE" {
		return Sound{}, errNoWAV
	}
	if id := string(data[:4]); id != "RIFF" && id != "RF64" {
		return Sound{}, errNoWAV
	}
	return readChunks(data[12:])
}

// format is what the chunk "fmt " says.
type format struct {
	float    bool
	channels int
	rate     float64
	bytes    int // of one sample
}

// readChunks goes from chunk to chunk to the samples.
func readChunks(data []byte) (Sound, error) {
	var f *format
	for len(data) >= 8 {
		id, size := string(data[:4]), int64(binary.LittleEndian.Uint32(data[4:8]))
		data = data[8:]
		size = min(size, int64(len(data))) // open, or cut
		switch id {
		case "fmt ":
			got, err := readFormat(data[:size])
			if err != nil {
				return Sound{}, err
			}
			f = &got
		case "data":
			if f == nil {
				return Sound{}, errors.New(
					"the recording's samples come before their format: save it anew as WAV")
			}
			return f.samples(data[:size])
		}
		data = data[min(size+size%2, int64(len(data))):]
	}
	return Sound{}, errors.New("there are no samples in the recording: record it again")
}

// The codes of a wave format: PCM, floating point, and that the code stands further behind.
const (
	codePCM      = 1
	codeFloat    = 3
	codeExtended = 0xFFFE
)

func readFormat(b []byte) (format, error) {
	if len(b) < 16 {
		return format{}, errNoWAV
	}
	code, bits := binary.LittleEndian.Uint16(b), int(binary.LittleEndian.Uint16(b[14:]))
	if code == codeExtended && len(b) >= 26 {
		code = binary.LittleEndian.Uint16(b[24:])
	}
	f := format{float: code == codeFloat, channels: int(binary.LittleEndian.Uint16(b[2:])),
		rate: float64(binary.LittleEndian.Uint32(b[4:])), bytes: (bits + 7) / 8}
	known := code == codePCM && bits >= 1 && bits <= 32 || f.float && (bits == 32 || bits == 64)
	switch {
	case !known:
		return f,
			fmt.Errorf(
				"the recording is packed (code %d, %d bit): save it as WAV, PCM of 8 to 32 bit or floating point",
				code,
				bits,
			)
	case f.channels < 1 || f.channels > 64:
		return f, fmt.Errorf("the recording says it has %d channels: save it anew as WAV",
			f.channels)
	case f.rate < 1000 || f.rate > 1e6:
		return f,
			fmt.Errorf(
				"the recording says it has %.0f samples in a second: 1 000 to 1 000 000 can be read",
				f.rate,
			)
	}
	return f, nil
}

// mostSample is beyond what a floating point recording holds; what is louder is damage.
const mostSample = 1000

// samples gives the loudest channel.
func (f format) samples(b []byte) (Sound, error) {
	n := len(b) / (f.bytes * f.channels)
	var best Sound
	most := -1.0
	for c := range f.channels {
		s, power := make([]float64, n), 0.0
		for i := range s {
			v := f.sample(b[(i*f.channels+c)*f.bytes:])
			if !(math.Abs(v) <= mostSample) {
				v = 0
			}
			s[i] = v
			power += v * v
		}
		if power > most {
			most, best = power, Sound{Rate: f.rate, Samples: s}
		}
	}
	if n == 0 {
		return best, errors.New("there are no samples in the recording: record it again")
	}
	if !f.float {
		best.Step = math.Ldexp(1, 1-8*f.bytes)
	}
	return best, nil
}

// sample reads one, -1 to 1. Eight bit are counted from 0, all wider ones from the middle.
func (f format) sample(b []byte) float64 {
	switch {
	case f.float && f.bytes == 8:
		return math.Float64frombits(binary.LittleEndian.Uint64(b))
	case f.float:
		return float64(math.Float32frombits(binary.LittleEndian.Uint32(b)))
	case f.bytes == 1:
		return (float64(b[0]) - 128) / 128
	}
	v := int32(0)
	for i := range f.bytes {
		v |= int32(b[i]) << (8 * (4 - f.bytes + i))
	}
	return float64(v) / (1 << 31)
}
