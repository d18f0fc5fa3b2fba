package job

import (
	"strings"
	"testing"
)

// The lines are those of the open documentation of the dialect, from memory; each sum was computed
// again by hand: the exclusive or of all bytes before the star.
var summed = []string{
	"N3 T0*57",
	"N4 G92 E0*67",
	"N5 G28*22",
	"N6 G1 F1500.0*82",
	"N7 G1 X2.0 Y2.0 F3000.0*85",
	"N8 G1 X3.0 Y3.0*33",
}

func TestChecksums(t *testing.T) {
	r := mustScan(t, strings.Join(summed, "\n")+"\n", Options{})
	if r.Checksums != 6 || r.Lines != 6 || r.Moves != 2 || r.Homings != 1 {
		t.Errorf("%+v", r)
	}
	for _, line := range summed {
		t.Run("damaged "+line, func(t *testing.T) {
			bad := strings.Replace(line, "N", "N1", 1)
			_, err := scanText("G90\n"+bad+"\n", Options{Strict: true})
			if err == nil || !strings.Contains(err.Error(), "line 2: the checksum is") {
				t.Errorf("%q gives %v", bad, err)
			}
		})
	}
}

func TestChecksumBesideOtherThings(t *testing.T) {
	for name, c := range map[string]struct {
		line string
		want string // of the error; empty: none
	}{
		"comment after it":             {"N3 T0*57 ; *12", ""},
		"star in a comment":            {"G1 X1 ; 2*3", ""},
		"star in a text":               {"M117 2*3", ""},
		"text on a numbered line":      {"N1 M117 hi*4", ""},
		"text on one, damaged":         {"N1 M117 ho*37", "checksum"},
		"unknown name, numbered":       {"N1 FOO_BAR X*111", ""},
		"nothing after the star":       {"N3 T0*", "no checksum after *"},
		"letters after the star":       {"N3 T0*5x", "no checksum after *"},
		"more after the checksum":      {"N3 T0*57 X1", "no checksum after *"},
		"number far too long":          {"N3 T0*57575757575757575757", "checksum"},
		"a line without number, right": {"T0*100", ""},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := scanText(c.line+"\nG90\n", Options{Strict: true})
			if (err == nil) != (c.want == "") || err != nil &&
				!strings.Contains(err.Error(), c.want) {
				t.Errorf("%q gives %v", c.line, err)
			}
		})
	}
}
