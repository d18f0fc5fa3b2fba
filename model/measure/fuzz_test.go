package measure

import (
	"bytes"
	"math"
	"strings"
	"testing"
)

// Whatever is typed, a calculator answers with figures or one sentence.
func FuzzWork(f *testing.F) {
	for _, s := range []string{"150", "15 cm|110 Hz", "0 0 1; 1 0 1; 0 1 1|heights|0 0; 1 0; 0 1",
		"M3|cap|steel|8.8|0.12|5|12", "1e400", "-40 °F|100", "1,234|1.234", "9|9|9|9|9|9|9|9",
		";;;| |x=1",
		"99 101 100", "0|0|0|0|0|0", "20|pairs|0 357012 50 33195 100 5384|127"} {
		f.Add(s)
	}
	all := All(materials)
	f.Fuzz(func(t *testing.T, text string) {
		parts := strings.Split(text, "|")
		for i := range all {
			typed := map[string]string{}
			for j := range all[i].Fields {
				if j < len(parts) {
					typed[all[i].Fields[j].Name] = parts[j]
				}
			}
			r, err := all[i].Work(typed)
			if err != nil {
				if strings.Contains(err.Error(), "\n") && !strings.Contains(text, "\n") ||
					err.Error() == "" {
					t.Errorf("%s %q: %q", all[i].ID, text, err)
				}
				continue
			}
			for _, row := range r.Rows {
				if math.IsNaN(row.Value) || math.IsInf(row.Value, 0) {
					t.Errorf("%s %q: %s is %g", all[i].ID, text, row.Name, row.Value)
				}
			}
			all[i].Worked(typed, r)
		}
	})
}

// Whatever bytes come, a recording is read or refused, and heard or refused.
func FuzzReadWAV(f *testing.F) {
	f.Add(wave(1, 16, 8000, false, ramp(4000)))
	f.Add(wave(3, 32, 8000, true, ramp(100), ramp(100)))
	f.Fuzz(func(t *testing.T, data []byte) {
		s, err := ReadWAV(bytes.NewReader(data))
		if err != nil {
			return
		}
		if h, err := Hear(s, AnyTone, 0); err == nil && !(h.Tone > 0) {
			t.Errorf("%+v", h)
		}
	})
}
