package job

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// needForms skips what says nothing on this processor.
func needForms(t *testing.T) {
	t.Helper()
	if !knowsForms {
		t.Skip("this processor reads word by word")
	}
}

// room is what must stand behind a line for it to be read by its form. It is known, and does not
// move.
var room = strings.Repeat("M105\n", formRoom/5+1)

// byForm reads a text with and without forms, with time and without, and wants the same of both.
func byForm(t teller, text string) {
	t.Helper()
	for _, timed := range []bool{false, true} {
		got, err := scanText(text, Options{Workers: 1, Time: timed})
		want, wantErr := scanText(text, Options{Workers: 1, Time: timed, careful: true})
		if fmt.Sprint(err) != fmt.Sprint(wantErr) {
			t.Errorf("%v, want %v in\n%q", err, wantErr, text)
		}
		same(t, fmt.Sprintf("%q, time %v", text, timed), got, want)
	}
}

// TestFormsAreUsed: lines of forms met before are read in one go, whichever they are.
func TestFormsAreUsed(t *testing.T) {
	needForms(t)
	long := "G0 X7.0 Y002.5 F009000.000000 E0.123456\n"
	head := "G1 X1.0 Y2.0 E.5\nG1 X3.0 Y2.5 E.7\n" + long
	text := []byte(head + strings.Repeat("G1 X3.0 Y2.5 E.7\n"+long, 50))
	l := lexer{learns: true}
	l.scan(text)
	text = text[len(head):]
	if n := sumForms(text, l.forms, &l.stretches[0].level); len(text)-n >= formRoom {
		t.Errorf("adding up stops at byte %d of %d", n, len(text))
	}
	recs := make([]rec, 100)
	if n, got := readForms(text, l.forms, recs, 7); len(text)-n >= formRoom ||
		got != bytes.Count(text[:n], []byte("\n")) {
		t.Errorf("%d records and %d of %d bytes are read", got, n, len(text))
	}
	want := rec{v: [5]int64{atX: 7_000_000, atY: 2_500_000, atE: 123_456, atF: 9_000_000_000},
		line: 7 + 17, op: opRapid, mask: hasX | hasY | hasE | hasF}
	if recs[1] != want {
		t.Errorf("the second record is %+v, want %+v", recs[1], want)
	}
	if n, got := readForms(text, l.forms, recs[:3], 0); n != 17+len(long)+17 || got != 3 {
		t.Errorf("with room for three, %d records and %d bytes are read", got, n)
	}
}

// TestFormByByte changes each byte of a line of a known form to each other byte: what is then no
// line of that form must be read as if there were none.
func TestFormByByte(t *testing.T) {
	needForms(t)
	known := new(forms)
	for _, line := range []string{"G1 X12.5 Y-3.25 E.125 F900\n", "G0 Y7 X1.\r\n"} {
		head := "G92 E0\n" + strings.Repeat(line, 3)
		for at := range line {
			for c := range 256 {
				b := []byte(line)
				b[at] = byte(c)
				text := head + string(b) + line + room
				for _, timed := range []bool{false, true} {
					got, fault := carriedOut(text,
						lexer{forms: known, learns: true, oneByOne: timed}, timed)
					want, wantFault := carriedOut(text, lexer{careful: true}, timed)
					same(t, fmt.Sprintf("%q, time %v", text, timed), got, want)
					if fault != wantFault || t.Failed() {
						t.Fatalf("%q, time %v: %s, want %s", text, timed, fault, wantFault)
					}
				}
			}
		}
	}
}

// carriedOut is what one block of whole lines comes to, and its fault.
func carriedOut(text string, l lexer, timed bool) (Report, string) {
	s := newState(DefaultProfile(), timed)
	l.scan([]byte(text))
	fault := ""
	if f := s.run(&l.lexed, []byte(text)); f != nil {
		fault = f.Error()
	}
	return s.report(), fault
}

// TestFormNumbers reads numbers with up to six digits on either side of the point by their form,
// and compares with the second reader, which knows fractions only.
func TestFormNumbers(t *testing.T) {
	digits := "9081726354"
	var b strings.Builder
	for whole := range 7 {
		for places := range 7 {
			for _, word := range []string{"X%s", "Y-%s", "E%s X1.5", "X.25 E-%s Y3", "F%s Y8"} {
				for shift := range 3 { // the same form with other digits
					number := digits[shift : shift+whole]
					if places > 0 {
						number += "." + digits[4-shift:4-shift+places]
					}
					if number != "" {
						fmt.Fprintf(&b, "G1 "+word+"\n", number)
					}
				}
			}
		}
	}
	for _, modes := range []string{"G90\nM82\n", "G90\nM83\n", "G91\n", "G20\nG90\n"} {
		text := modes + "G1 X0 Y0 E0\n" + b.String() + room
		got, err := scanText(text, Options{})
		if err != nil {
			t.Fatal(err)
		}
		want := newReference()
		want.file(text)
		compare(t, "numbers", &got, want)
		byForm(t, text)
	}
}

// drawForms writes lines of a few forms with other digits each, and now and then a line that is
// almost of one of them.
func drawForms(t *rapid.T) string {
	known := rapid.SliceOfN(rapid.Custom(drawForm), 1, 4).Draw(t, "forms")
	var b strings.Builder
	b.WriteString("G1 X0 Y0 E0\n")
	for range rapid.IntRange(5, 80).Draw(t, "lines") {
		line := []byte(rapid.SampledFrom(known).Draw(t, "form"))
		for i, c := range line {
			if isDigit(c) && i > 1 {
				line[i] = rapid.ByteRange('0', '9').Draw(t, "digit")
			}
		}
		if rapid.IntRange(0, 20).Draw(t, "almost") == 0 {
			at := rapid.IntRange(0, len(line)-1).Draw(t, "at")
			line[at] = rapid.SampledFrom([]byte("0 .-GXZ;\n\r\x80\xb0T")).Draw(t, "byte")
		}
		b.Write(line)
		if rapid.IntRange(0, 25).Draw(t, "other") == 0 {
			b.WriteString(rapid.SampledFrom([]string{"M83\n", "M82\n", "G91\n", "G90\n", "G92 E0\n",
				"G1 Z1\n", "T1\n", "G28\n", "M106 S9\n"}).Draw(t, "line"))
		}
	}
	return b.String() + room
}

// drawForm writes one line of level movement, sometimes longer than a form can be.
func drawForm(t *rapid.T) string {
	number := rapid.StringMatching(`-?([0-9]{1,6}|[0-9]{0,3}\.[0-9]{1,6}|[0-9]{1,6}\.)`)
	line := rapid.SampledFrom([]string{"G0", "G1", "G1"}).Draw(t, "G")
	gap := rapid.SampledFrom([]string{" ", " ", ""}).Draw(t, "gap")
	for i, c := range rapid.SampledFrom([]string{"XYE", "XYE", "XY", "E", "X", "EYX", "FXY", "XYEF",
		"F"}).Draw(t, "words") {
		if i == 0 {
			line += " "
		} else {
			line += gap
		}
		line += string(c) + number.Draw(t, "number")
	}
	return line + rapid.SampledFrom(
		[]string{"\n", "\n", "\r\n", " \n", " ; " + strings.Repeat("c", 40) + "\n"}).Draw(t, "end")
}

// TestForms: lines read by their form give what they give the long way.
func TestForms(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := drawForms(t)
		byForm(t, text)
		agree(t, []byte(text))
	})
}

// TestFormsShareSlots: forms that have the same slot take turns and none is read as the other.
func TestFormsShareSlots(t *testing.T) {
	needForms(t)
	// what is no digit in the first is none in the second, which has more of it: only the key tells
	// them apart
	byForm(t, "G92 X0 Y0 E0\n"+
		strings.Repeat("G1 X170447 Y4444.3 E-6.898 F-61555\nG1 X881965 Y200709 E798654 F-20256\n",
			4)+room)
	var f forms
	at := map[*form]string{}
	for x := range 12 {
		for y := range 12 {
			for e := range 12 {
				line := fmt.Sprintf("G1 X%s Y%s E%s\n", decimals(x), decimals(y), decimals(e))
				key := uint64(0)
				for i := range line {
					if !isDigit(line[i]) {
						key |= 1 << i
					}
				}
				slot := f.slot(key, line)
				if other := at[slot]; other != "" {
					byForm(t, "G92 X0 Y0 E0\n"+strings.Repeat(line+other, 4)+room)
				}
				at[slot] = line
			}
		}
		if t.Failed() || x > 1 && testing.Short() {
			return
		}
	}
}

// decimals writes numbers of different forms.
func decimals(n int) string {
	return strings.Repeat("-", n%2) + "123"[:1+n/2%3] + "." + "4567"[:1+n/6]
}
