package model

import (
	"reflect"
	"strings"
	"testing"
)

func sample() *Procedure {
	n, low := 4, 0.5
	return &Procedure{
		ID: "blade-check", Title: "Check the blade", Kind: Swap, Rung: []Placed{{Is: "renew"}},
		Part: "blade", HandsOn: 6,
		Require: Condition{Power: "unplugged", Heat: "cold"},
		Leave: []Left{{Variable: Vapour, Is: "drying",
			Only: Only{Features: []Feature{"bush-polymer"}}}},
		Steps: []Step{
			{Name: "out", Do: "Take out < 5 & count.", Gate: Count, Equal: &Equal{Number: &n},
				Out: map[string]Amount{"screws": {Answer: true}, "a": {N: 2}}},
			{Name: "gap", Do: "Read.", Gate: Measure, Quantity: "gap", Unit: "mm", Low: &low,
				Miss: &Miss{Then: "redo", Step: "out", Else: &Miss{Then: "stop"}}},
		},
		Later: []Later{{When: "proof", Step: Step{Name: "look", Do: "Look.", Gate: Confirm}}},
		File:  "blade-check.toml",
	}
}

func hashOf(p *Procedure) string {
	hash, _ := Text(p)
	return hash
}

func TestTextRoundTrip(t *testing.T) {
	p := sample()
	hash, data := Text(p)
	got, err := ReadText(data)
	if err != nil {
		t.Fatal(err)
	}
	want := *p
	want.File = ""
	if !reflect.DeepEqual(got, &want) {
		t.Errorf("read back\n%+v\nwant\n%+v", got, &want)
	}
	again, _ := Text(got)
	if again != hash || hash != hashOf(p) || len(hash) != 64 {
		t.Errorf("hash %s, again %s", hash, again)
	}
	if !strings.Contains(string(data), "< 5 & count") {
		t.Errorf("text is escaped: %s", data)
	}
}

func TestHashTellsContentApart(t *testing.T) {
	a, b := sample(), sample()
	b.File = "elsewhere/blade-check.toml"
	if hashOf(a) != hashOf(b) {
		t.Error("where a file stands changes its hash")
	}
	b.Steps[0].Do += " Twice."
	if hashOf(a) == hashOf(b) {
		t.Error("another wording has the same hash")
	}
}

func TestReadTextRefuses(t *testing.T) {
	for name, data := range map[string]string{
		"empty": "", "no JSON": "id = 1", "no id": "{}", "wrong type": `{"id":3}`,
		"cut short": `{"id":"a"`,
	} {
		if p, err := ReadText([]byte(data)); err == nil || p != nil {
			t.Errorf("%s: got %v, %v", name, p, err)
		}
	}
	if p, err := ReadText([]byte(`{"id":"a","title":"A","kind":"care","handson":1,"new-in-later-versions":true}`)); err != nil || p.ID != "a" {
		t.Errorf("an unknown key stops reading: %v", err)
	}
}
