package action

import (
	"strings"
	"testing"

	"bench/oilcan/model"
)

// TestSettling closes findings: a stop's tag goes with its last finding, and with nothing else.
func TestSettling(t *testing.T) {
	finding := func(id string, kind model.FindingKind) model.Finding {
		return model.Finding{ID: id, Found: model.Found{Kind: kind}}
	}
	tests := []struct {
		name   string
		tag    model.TagKind
		others []model.Finding
		kind   model.FindingKind
		clears bool
	}{
		{"the stop", "stopped", nil, "stop", true},
		{"one of two stops", "stopped", []model.Finding{finding("b", "stop")}, "stop", false},
		{"a note beside a stop", "stopped", []model.Finding{finding("b", "stop")}, "note", false},
		{"the part came", "waiting", []model.Finding{finding("b", "note")}, "part", true},
		{"a part on a stopped machine", "stopped", nil, "part", false},
		{"no tag", "", nil, "stop", false},
		{"given up stays", "given-up", nil, "note", false},
		{"left with limits", "limits", nil, "limits", true},
		{"left out of use", "out-of-use", nil, "out-of-use", true},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			f := finding("a", tt.kind)
			m := &model.Machine{Findings: append([]model.Finding{f}, tt.others...)}
			if tt.tag != "" {
				m.Tag = &model.Tag{Kind: tt.tag}
			}
			facts := Settling(m, f, "put right")
			if facts[0].Settled == nil || facts[0].Settled.Finding != "a" {
				t.Errorf("the finding is not closed: %+v", facts)
			}
			if clears := len(facts) == 2 && facts[1].Tag.Clear &&
				facts[1].Tag.Kind == tt.tag; clears != tt.clears {
				t.Errorf("clears the tag: %v, want %v", clears, tt.clears)
			}
		})
	}
}

func TestClearTag(t *testing.T) {
	for _, tt := range []struct {
		name    string
		tag     model.TagKind
		kinds   []string // of the findings a, b, …
		closes  string   // ids of those closed
		err     string
		unlocks bool
	}{
		{name: "no tag", err: "no tag is on Heron: nothing to clear"},
		{name: "given up", tag: "given-up", kinds: []string{"note"},
			err: "the tag on Heron says that a session was given up: a care session that closes clears it"},
		{name: "limits, nothing found", tag: "limits"},
		{name: "limits", tag: "limits", kinds: []string{"limits", "note"}, closes: "a"},
		{name: "out of use", tag: "out-of-use", kinds: []string{"limits", "out-of-use"},
			closes: "b"},
		{name: "two parts", tag: "waiting", kinds: []string{"part", "note", "part"}, closes: "a c"},
		{name: "stopped", tag: "stopped", kinds: []string{"stop", "part"}, closes: "a",
			unlocks: true},
	} {
		t.Run(tt.name, func(t *testing.T) {
			m := &model.Machine{MachineFact: model.MachineFact{Name: "Heron"}}
			if tt.tag != "" {
				m.Tag = &model.Tag{Kind: tt.tag}
			}
			for i, k := range tt.kinds {
				m.Findings = append(m.Findings,
					model.Finding{ID: string(rune('a' + i)),
						Found: model.Found{Kind: model.FindingKind(k)}})
			}
			facts, err := ClearTag(m, "put right")
			if text(err) != tt.err {
				t.Fatalf("error %q, want %q", text(err), tt.err)
			}
			if Clearable(m) != (err == nil) || Unlocks(facts) != tt.unlocks {
				t.Errorf("clearable %v, unlocks %v", Clearable(m), Unlocks(facts))
			}
			if err != nil {
				return
			}
			var closed []string
			for _, f := range facts[:len(facts)-1] {
				closed = append(closed, f.Settled.Finding)
			}
			last := facts[len(facts)-1].Tag
			if got := strings.Join(closed, " "); got != tt.closes || last == nil || !last.Clear ||
				last.Kind != tt.tag || last.Why != "put right" {
				t.Errorf("closes %q, want %q; then %+v", got, tt.closes, last)
			}
		})
	}
}
