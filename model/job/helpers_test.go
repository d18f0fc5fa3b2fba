package job

import (
	"bytes"
	"context"
	"math"
	"reflect"
	"testing"
)

// teller is what a test, a fuzz target and a property test have in common.
type teller interface {
	Helper()
	Errorf(string, ...any)
}

// scanText reads a text as a file of its own.
func scanText(text string, o Options) (Report, error) {
	r, err := Scan(context.Background(), bytes.NewReader([]byte(text)), int64(len(text)), o)
	if len(r) == 0 {
		return Report{}, err
	}
	return r[0], err
}

func mustScan(t *testing.T, text string, o Options) Report {
	t.Helper()
	r, err := scanText(text, o)
	if err != nil {
		t.Fatalf("%v in\n%s", err, text)
	}
	return r
}

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s is %.9g, want %.9g", what, got, want)
	}
}

// count looks up a name.
func count(list []Count, name string) int64 {
	for _, c := range list {
		if c.Name == name {
			return c.N
		}
	}
	return 0
}

// same compares all of two reports.
func same(t teller, what string, got, want Report) {
	t.Helper()
	if !reflect.DeepEqual(got, want) {
		t.Errorf("%s: %+v\nwant %+v", what, got, want)
	}
}
