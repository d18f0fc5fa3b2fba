package measure_test

import (
	"bytes"
	"encoding/binary"
	"math"
	"os"
	"path/filepath"
	"testing"

	"bench/oilcan/model"
	"bench/oilcan/store"
	"bench/oilcan/ui/screen/screentest"
	"bench/oilcan/ui/theme"
)

// toList are the keys from the bench to the calculators of Heron.
var toList = []string{"/", "her", "enter", "enter", "n", "7"}

func at(keys ...string) []string { return append(append([]string{}, toList...), keys...) }

// downs moves the cursor.
func downs(n int, keys ...string) []string {
	var out []string
	for range n {
		out = append(out, "down")
	}
	return append(out, keys...)
}

var places = []screentest.Place{
	{Name: "list", Keys: toList},
	{Name: "belt", Keys: at("enter")},
	{Name: "belt-bad", Keys: at("enter", "down", "5", "enter")},
	{Name: "heater-caution", Keys: at(downs(9, "enter")...)},
	{Name: "heater", Keys: at(downs(9, "enter", "y")...)},
	{Name: "heater-answer",
		Keys: at(downs(9, "enter", "y", "down", "down", "40", "down", "down", "14.6 ohm", "ctrl+s")...)},
	{
		Name: "tilt-answer",
		Keys: at(downs(6, "enter", "30 30 0.12; 220 30 -0.05; 125 220 0.02", "down", "down",
			"20 20; 230 20; 125 230", "ctrl+s")...),
	},
	{Name: "torque", Keys: at(downs(2, "enter", "3", "ctrl+s")...)},
}

// Golden frames, every size, one meaning a key, and nothing raw from what is stored.
func TestFrames(t *testing.T) { screentest.Frames(t, screentest.FromBench, places) }

func TestNothingRaw(t *testing.T) { screentest.NothingRaw(t, places) }

// plucks writes a recording of three plucks of a tone: WAV, 16 bit, mono.
func plucks(t *testing.T, tone float64) string {
	t.Helper()
	const rate = 22050
	var data bytes.Buffer
	for i := range 3 * rate {
		s := float64(i%rate) / rate
		v := 0.5 * math.Exp(-s/0.3) * math.Sin(2*math.Pi*tone*s)
		binary.Write(&data, binary.LittleEndian, int16(20000*v))
	}
	var out bytes.Buffer
	out.WriteString("RIFF")
	binary.Write(&out, binary.LittleEndian, uint32(36+data.Len()))
	out.WriteString("WAVEfmt ")
	for _, x := range []any{uint32(16), uint16(1), uint16(1), uint32(rate), uint32(2 * rate),
		uint16(2), uint16(16)} {
		binary.Write(&out, binary.LittleEndian, x)
	}
	out.WriteString("data")
	binary.Write(&out, binary.LittleEndian, uint32(data.Len()))
	out.Write(data.Bytes())
	path := filepath.Join(t.TempDir(), "p.wav")
	if err := os.WriteFile(path, out.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// The tone of a recording is found once its row is left, the answer is kept, and what is known of
// the belt stands the next time.
func TestBeltFromRecordingIsKept(t *testing.T) {
	d := screentest.New(t, 120, 40, true, theme.Options{Dark: true}).Keys(toList...)
	d.Keys("enter", "1", "150 mm", "enter", "enter", "9", "enter").Keys(plucks(t, 110), "enter")
	d.Shows("> Tone                  110")
	d.Keys("ctrl+s")
	d.Shows("3 plucks within", "judged      good", "keep 110 Hz")
	d.Keys("enter")
	d.Shows("Kept: belt left 110 Hz")
	es, err := d.S.Entries(store.Filter{Machine: "m1", Kinds: []model.EntryKind{model.KindValue}})
	if err != nil || len(es) == 0 {
		t.Fatal(err, es)
	}
	v := es[len(es)-1].Value
	if v.Name != "belt left" || v.Value != 110 || v.From == nil || v.From.By != "belt" ||
		len(v.From.Gave) < 4 {
		t.Errorf("kept %+v", v)
	}
	d.Keys("enter", "1")
	d.Shows("150 mm", "Last tone on record   110")
	if d.Keys("down", "down"); d.View() == "" {
		t.Error("nothing is drawn")
	}
}

// Bad recordings say why, beside the row; the questions stay.
func TestRecordingRefused(t *testing.T) {
	d := screentest.New(t, 120, 40, true, theme.Options{Dark: true}).Keys(toList...)
	d.Keys("enter", "1", "150", "enter", "enter", "9", "enter", "/no/such.wav", "enter")
	d.Shows("cannot be read", "> Recording")
}

// What can hurt is answered by itself before a meter is at a machine, and only by its letter.
func TestCautionFirst(t *testing.T) {
	d := screentest.New(t, 80, 24, true, theme.Options{Dark: true}).Keys(toList...)
	d.Keys(downs(9, "enter")...)
	d.Shows("CAUTION", "Only with every plug", "Is it so?")
	d.Keys("enter")
	d.Shows("Is it so?")
	d.Keys("y")
	d.Shows("Power on the label")
}
