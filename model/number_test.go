package model_test

import (
	"errors"
	"math"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	. "bench/oilcan/model"
)

// How numbers are written: ISO 80000-1 (groups of three set apart by a small space, comma or point
// as the decimal mark; from memory), and the marks people and machines use besides.
func TestReadNumber(t *testing.T) {
	for _, tt := range []struct {
		text string
		want float64
		unit string
	}{
		{"0", 0, ""}, {"1234", 1234, ""}, {" 12.50 ", 12.5, ""}, {"12,5", 12.5, ""},
		{"112,5", 112.5, ""},
		{"1 234", 1234, ""}, {"1\u202f234,5", 1234.5, ""}, {"1\u00a0234", 1234, ""},
		{"1'234.50", 1234.5, ""},
		{"1,234.5", 1234.5, ""}, {"1.234,5", 1234.5, ""}, {"1,234,567", 1234567, ""},
		{"1.234.567", 1234567, ""},
		{"1.234.567,25", 1234567.25, ""}, {"1 234.567", 1234.567, ""}, {"1 234,567", 1234.567, ""},
		{"1234.567", 1234.567, ""},
		{"0,125", 0.125, ""}, {"0.125", 0.125, ""}, {".5", 0.5, ""}, {",5", 0.5, ""},
		{"012,345", 12.345, ""},
		{"1.2340", 1.234, ""}, {"1,2345", 1.2345, ""}, {"-5", -5, ""}, {"\u22125,5 °C", -5.5, "°C"},
		{"+3", 3, ""},
		{"31 °C", 31, "°C"}, {"31°C", 31, "°C"}, {"12,5 mm", 12.5, "mm"}, {"1 234 h", 1234, "h"},
		{"3 back", 3, "back"}, {"40%", 40, "%"},
	} {
		got, err := ReadNumber(tt.text)
		if err != nil || got.Two || math.Abs(got.Value-tt.want) > 1e-12 || got.Unit != tt.unit {
			t.Errorf("%q is %+v, %v; want %v %q", tt.text, got, err, tt.want, tt.unit)
		}
	}
	for _, text := range []string{"", "x", "NaN", "Inf", "-Inf", "0x10", "1_000", "1.2.3", "12.5,3",
		"--3", "+-3", "12 34", "1 2345",
		"1,234,56", "1,234.567.890", "5.", "5,", ",", "-", "2026-11-20", "14:30", "1,234,", "1 234 567 89", "1e"} {
		if got, err := ReadNumber(text); err == nil && got.Unit == "" {
			t.Errorf("%q is taken for %+v", text, got)
		}
	}
}

func TestTwoWays(t *testing.T) {
	for text, want := range map[string][2]float64{"1,234": {1234, 1.234}, "1.234": {1234, 1.234},
		"12,500 h": {12500, 12.5}, "999.000": {999000, 999}} {
		got, err := ReadNumber(text)
		if err != nil || !got.Two || got.Value != want[0] || got.Small != want[1] {
			t.Errorf("%q is %+v, %v; want both of %v", text, got, err, want)
		}
	}
	_, err := ReadAmount("1,234", "h", nil)
	if err == nil ||
		err.Error() != `"1,234" can be 1234 or 1.234: type 1234, or 1.2340 for the smaller one` ||
		!errors.As(err, &TwoWays{}) {
		t.Errorf("asked with %v", err)
	}
	_, err = ReadAmount("1,500", "h", nil)
	if err == nil ||
		err.Error() != `"1,500" can be 1500 or 1.5: type 1500, or 1.5 for the smaller one` {
		t.Errorf("asked with %v", err)
	}
	if n, err := ReadCount("1,234", "changes", 10000); err != nil || n != 1234 {
		t.Errorf("a count is whole: %v, %v", n, err)
	}
	if n, err := ReadCount("1.000", "changes", 10000); err != nil || n != 1000 {
		t.Errorf("a count has no decimals: %v, %v", n, err)
	}
	for _, text := range []string{"1.5", "10001", "-1", "3 mm"} {
		if n, err := ReadCount(text, "changes", 10000); err == nil {
			t.Errorf("%q is taken for %d", text, n)
		}
	}
}

// What is known for certain decides, what is likely does not.
// What is counted, paid and rated is written one way everywhere.
func TestWrittenOneWay(t *testing.T) {
	for got, want := range map[string]string{
		Counted(1, "day"): "1 day", Counted(0, "day"): "0 days", Counted(1200, "line"): "1 200 lines", Counted(2, "entry"): "2 entries",
		Times(1): "once", Times(2): "twice", Times(3): "3 times", Times(1500): "1 500 times",
		Rough(0.5249): "0.52", Rough(14.4): "14", Rough(0): "0", Rough(0.0061): "0.006",
		Money(nil, "EUR"): "", Money(new(2.4), "EUR"): "2.40 EUR", Money(new(1234.5), ""): "1 234.50",
		Money(new(0.0061), "EUR"): "0.006 EUR", Money(new(0.0), "EUR"): "0.00 EUR",
		Decimal(1234.56789): "1234.56789",
	} {
		if got != want {
			t.Errorf("%q, not %q", got, want)
		}
	}
}

func TestReadMeter(t *testing.T) {
	now := time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC)
	last := Point{At: now.AddDate(0, 0, -30), Value: 1200}
	m := &Machine{Readings: map[Meter]*Series{Hours: {First: last, Last: last, N: 1}}}
	if v, err := ReadMeter(m, Hours, "1,234", now, now); err != nil || v != 1234 {
		t.Errorf("after 1,200 the reading 1,234 is %v, %v", v, err)
	}
	if v, err := ReadMeter(&Machine{}, Hours, "1,234", now, now); err == nil {
		t.Errorf("a first reading of 1,234 is taken for %v", v)
	}
	if v, err := ReadMeter(&Machine{}, Changes, "1,234 changes", now, now); err != nil ||
		v != 1234 {
		t.Errorf("changes are whole: %v, %v", v, err)
	}
	if v, err := ReadMeter(m, Hours, "1,100", now, now); !errors.As(err, &TwoWays{}) {
		t.Errorf("neither reading can be, and 1,100 is taken for %v, %v", v, err)
	}
	if v, err := ReadMeter(m, Hours, "1210 mm", now, now); err == nil ||
		!strings.Contains(err.Error(), "in h") {
		t.Errorf("mm are taken for hours: %v, %v", v, err)
	}
}

func TestSameUnit(t *testing.T) {
	for _, tt := range [][2]string{{"", "mm"}, {"MM", "mm"}, {"c", "°C"}, {"deg", "°C"},
		{"%", "%RH"}, {"hours", "h"}, {"hrs", "h"},
		{"minutes", "min"}, {"day", "d"}, {"ohms", "Ω"}, {"Nm", "N·m"}, {"change",
			"changes"}, {"grams", "gram"}} {
		if !SameUnit(tt[0], tt[1]) {
			t.Errorf("%q is not taken for %q", tt[0], tt[1])
		}
	}
	for _, tt := range [][2]string{{"mm", "m"}, {"m", "mm"}, {"h", "min"}, {"°F", "°C"}, {"s", ""},
		{"V", "mV"}, {"ms", "m"}} {
		if SameUnit(tt[0], tt[1]) {
			t.Errorf("%q is taken for %q", tt[0], tt[1])
		}
	}
}

// What the program writes is read back as it is: typed in one way, and shown in one of two at most.
func TestNumbersRead(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := float64(rapid.Int64Range(-9e12, 9e12).Draw(t, "thousandths")) / 1000
		typed, err := ReadNumber(Digits(v))
		if err != nil || typed.Two || math.Abs(typed.Value-v) > 1e-9*math.Abs(v) {
			t.Fatalf("%v is written %q and read %+v, %v", v, Digits(v), typed, err)
		}
		shown, err := ReadNumber(Figure(v))
		if err != nil || math.Abs(shown.Value-v) > 1e-9*math.Abs(v) &&
			!(shown.Two && math.Abs(shown.Small-v) < 1e-9*math.Abs(v)) {
			t.Fatalf("%v is shown %q and read %+v, %v", v, Figure(v), shown, err)
		}
		tenths := math.Round(v*10) / 10
		again, err := ReadNumber(Number(v))
		if err != nil || again.Two || math.Abs(again.Value-tenths) > 1e-9*math.Abs(v) {
			t.Fatalf("%v is shown %q and, typed as shown, read %+v, %v", v, Number(v), again, err)
		}
	})
}

func FuzzReadNumber(f *testing.F) {
	for _, s := range []string{"1,234", "1 234 h", "-5.5°", "1'2", "\u202f"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		n, err := ReadNumber(text)
		if err == nil && (math.IsNaN(n.Value) || math.IsInf(n.Value, 0)) {
			t.Errorf("%q is %v", text, n.Value)
		}
	})
}
