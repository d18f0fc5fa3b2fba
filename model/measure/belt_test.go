package measure

import (
	"math"
	"testing"
)

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s is %.6g, want %.6g", what, got, want)
	}
}

// T = 4 M W S² f² 1e-9 as the manual of a belt maker's tone meter prints it, M in g per m and mm,
// and its worked example: M 8.4, W 28, S 1028, f 27.4 gives 746.42 N; 1050 N is at 32.4977 Hz.
func TestPull(t *testing.T) {
	near(t, "pull", Pull(1028, 8.4*28, 27.4), 746.4224, 0.0005)
	near(t, "tone", Tone(1028, 8.4*28, 1050), 32.4977, 0.0001)
	for _, row := range []struct{ mass, n6, n9, n10 float64 }{
		// S 150 mm, f 110 Hz, calculated apart
		{1.1, 7.1874, 10.7811, 11.9790}, {1.2, 7.8408, 11.7612, 13.0680},
		{1.3, 8.4942, 12.7413, 14.1570}, {1.5, 9.8010, 14.7015, 16.3350},
	} {
		near(t, "6 mm", Pull(150, row.mass*6, 110), row.n6, 5e-5)
		near(t, "9 mm", Pull(150, row.mass*9, 110), row.n9, 5e-5)
		near(t, "10 mm", Pull(150, row.mass*10, 110), row.n10, 5e-5)
	}
	near(t, "1 % in tone", Pull(150, 8, 101)/Pull(150, 8, 100), 1.0201, 1e-9)
}

func TestBeltCalculator(t *testing.T) {
	c := Find(All(nil), "belt")
	work := func(typed map[string]string) Result {
		t.Helper()
		r, err := c.Work(typed)
		if err != nil {
			t.Fatal(err)
		}
		return r
	}
	value := func(r Result, name string) float64 { x, _ := r.Row(name); return x.Value }
	r := work(map[string]string{"span": "15 cm", "tone": "110 Hz", "width": "6", "last": "112"})
	near(t, "pull", value(r, "pull"), 8.4942, 1e-3)
	near(t, "drift", value(r, "since the last"), -1.786, 0.01)
	if r.Grade != Good {
		t.Errorf("grade %q", r.Grade)
	}
	r = work(
		map[string]string{
			"span":   "150",
			"tone":   "110",
			"belt":   "weighed",
			"length": "1 m",
			"weight": "7,8 g",
			"other":  "120",
		},
	)
	near(t, "pull by weight", value(r, "pull"), 8.4942, 1e-3)
	near(t, "against the other", value(r, "against the other"), -8.333, 0.01)
	if r.Grade != Doubtful {
		t.Errorf("grade %q", r.Grade)
	}
	if r = work(
		map[string]string{"span": "150", "tone": "220", "last": "110"},
	); r.Grade != Doubtful {
		t.Errorf("an octave is %q", r.Grade)
	}
	back, err := Find(All(nil), "belt-tone").Work(map[string]string{"span": "150", "width": "6",
		"pull": "2 lbf"})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "tone for 2 lbf", value(back, "tone"), Tone(150, 7.8, 8.896443), 1e-3)
}
