package store

import (
	"encoding/json"
	"errors"
	"path/filepath"
	"strings"
	"testing"

	"bench/oilcan/model"
	"bench/oilcan/store/storetest"
)

// breach is a good fact, and what is made of it in the JSON of the journal that no way in may let
// pass.
type breach struct {
	name     string
	good     model.Fact
	from, to string
}

func breaches(t *testing.T) []breach {
	note := model.Fact{Kind: model.KindFinding,
		Finding: &model.Found{Kind: model.FoundNote, Text: "hums"}}
	value := model.Fact{Kind: model.KindValue, Value: &model.Measured{Name: "belt tone", Value: 82,
		Unit: "Hz"}}
	job := model.Fact{Kind: model.KindBooked,
		Booked: &model.PrintJob{File: "plate.gcode", Need: map[model.Meter]float64{model.Hours: 3}}}
	tag := model.Fact{Kind: model.KindTag, Tag: &model.TagMove{Kind: model.TagLimits, Why: "slow"}}
	failed := model.Fact{Kind: model.KindFailed, Failed: &model.PrintFailed{Symptom: "ringing"}}
	price := used("blade", 1)
	price.Stock.Price = new(float64)
	*price.Stock.Price = 2
	out := []breach{
		{"a duty that is none", machineFact("Brass"), `"duty":"home"`, `"duty":"factory"`},
		{"a name that is an option", machineFact("Brass"), `"Brass"`, `"--file"`},
		{"a meter nobody reads", reading(model.Hours, 12), `"meter":"hours"`, `"meter":"miles"`},
		{"a reading below nothing", reading(model.Hours, 12), `"value":12`, `"value":-12`},
		{"an outcome of care", care("oil"), `"outcome":"done"`, `"outcome":"perhaps"`},
		{"care of nothing", care("oil"), `"procedure":"oil"`, `"procedure":""`},
		{"an end of a part", swap("blade", model.EndWorn), `"end":"worn"`, `"end":"tired"`},
		{"a swap of nothing", swap("blade", model.EndWorn), `"part":"blade"`, `"part":""`},
		{"a stock move of nothing", used("blade", 1), `"part":"blade"`, `"part":""`},
		{"a finding without a text", note, `"text":"hums"`, `"text":" "`},
		{"a kind of finding", note, `"kind":"note"`, `"kind":"Note this"`},
		{"a tag", tag, `"kind":"limits"`, `"kind":"no limits"`},
		{"a value without a name", value, `"name":"belt tone"`, `"name":""`},
		{"a print of no file", job, `"file":"plate.gcode"`, `"file":""`},
		{"a print that gives hours back", job, `"hours":3`, `"hours":-3`},
		{"a failed print without a reason", failed, `"symptom":"ringing"`, `"symptom":""`},
		{"a failed print by no id", failed, `"symptom":"ringing"`, `"symptom":"Ringing!"`},
		{"a price below nothing", price, `"price":2`, `"price":-2`},
		{"a fact without its part", note, `"finding":{`, `"nothing":{`},
		{"a kind nobody knows", note, `"kind":"finding"`, `"kind":"dance"`},
	}
	for name, text := range map[string]string{
		"a colour": "\x1b[31m", "the clipboard": "\x1b]52;c;QUJD\x07", "a C1 control": "\u009b2J",
		"a return": "\r", "a zero": "\x00",
		"a flood": strings.Repeat("x", longestText+1),
	} {
		quoted := storetest.JSON(t, text)
		out = append(out,
			breach{"a machine's name with " + name, machineFact("Brass"), `"Brass"`, quoted},
			breach{"a finding with " + name, note, `"hums"`, quoted},
			breach{"a reason with " + name, tag, `"slow"`, quoted},
			breach{"a part with " + name, swap("blade", model.EndWorn), `"blade"`, quoted},
			breach{"a quantity with " + name, value, `"belt tone"`, quoted},
			breach{"a file with " + name, job, `"plate.gcode"`, quoted})
	}
	return out
}

// TestOneListOfRules: what no person can type gets in by no way: typed, taken in with others, or
// restored from a file whose sums are right.
func TestOneListOfRules(t *testing.T) {
	for _, x := range breaches(t) {
		t.Run(x.name, func(t *testing.T) {
			s, c := newStore(t)
			id := addMachine(t, s, "Anvil")
			if x.good.Kind == model.KindMachine {
				id = ""
			}
			data, err := json.Marshal(x.good)
			if err != nil {
				t.Fatal(err)
			}
			bad := strings.Replace(string(data), x.from, x.to, 1)
			if bad == string(data) {
				t.Fatalf("%s is not in %s", x.from, data)
			}
			var f model.Fact
			if err := json.Unmarshal([]byte(bad), &f); err != nil {
				t.Fatal(err)
			}
			if _, err := s.Append(model.Action{Machine: id, Facts: []model.Fact{f}}); !errors.Is(
				err, ErrRefused) {
				t.Errorf("typed: %v", err)
			}
			if _, err := s.AppendAll([]model.Action{{Machine: id, Facts: []model.Fact{x.good}},
				{Machine: id, Facts: []model.Fact{f}}}); !errors.Is(err, ErrRefused) {
				t.Errorf("taken in: %v", err)
			}
			src := filepath.Join(t.TempDir(), "crafted.db")
			from, err := Open(src, c.now)
			if err != nil {
				t.Fatal(err)
			}
			into := addMachine(t, from, "Anvil")
			if id == "" {
				into = ""
			}
			mustAppend(t, from, model.Action{Machine: into, Facts: []model.Fact{x.good}})
			storetest.Craft(t, src, map[string]string{x.from: x.to})
			if again, err := Open(src, c.now); err == nil {
				_ = again.Rebuild()
			}
			if _, err := Restore(s.Path(), src, nil); !errors.Is(err, ErrRefused) &&
				!errors.Is(err, ErrDamaged) {
				t.Errorf("restored: %v", err)
			}
			if n := len(mustEntries(t, s, Filter{})); n != 1 {
				t.Errorf("%d entries, of which 1 was typed", n)
			}
		})
	}
}

// TestRestoreJudgesTheOrder: an entry that could not have been written behind those before it is
// not restored.
func TestRestoreJudgesTheOrder(t *testing.T) {
	s, c := newStore(t)
	for name, x := range map[string]struct{ from, to string }{
		"a strike of what is not there": {`"strike":{"action":"`, `"strike":{"action":"X`},
		"a step left out":               {`"ordinal":2`, `"ordinal":3`},
		"a text with a colour":          {`resolved`, `re\u001b[31msolved`},
	} {
		t.Run(name, func(t *testing.T) {
			src := filepath.Join(t.TempDir(), "crafted.db")
			from, err := Open(src, c.now)
			if err != nil {
				t.Fatal(err)
			}
			id := addMachine(t, from, "Anvil")
			es := mustAppend(t, from, model.Action{Machine: id, Facts: []model.Fact{care("oil")}})
			mustAppend(t, from, model.Action{Facts: []model.Fact{strike(es[0].Action)}})
			_, session := begin(t, from, "Brass")
			mustAppend(t, from, model.Action{Session: session, Ordinal: 2,
				Facts: []model.Fact{step("passed", "step 2 of 9")}})
			text := []byte(`{"id":"oil","title":"resolved"}`)
			mustAppend(t, from, model.Action{Machine: id, Facts: []model.Fact{care("oil")},
				Texts: map[string][]byte{textHash(text): text}})
			if _, err := Restore(filepath.Join(t.TempDir(), "good.db"), backupOf(t, from),
				nil); err != nil {
				t.Fatal(err)
			}
			storetest.Craft(t, src, map[string]string{x.from: x.to})
			if again, err := Open(src, c.now); err == nil {
				_ = again.Rebuild()
			}
			_, err = Restore(s.Path(), src, nil)
			if !errors.Is(err, ErrRefused) && !errors.Is(err, ErrDamaged) {
				t.Error(err)
			}
			t.Log(err)
		})
	}
}
