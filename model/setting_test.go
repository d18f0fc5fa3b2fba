package model

import "testing"

// TestSettingAccepts: a number without a unit is a count of what one machine has; with one it is
// measured.
func TestSettingAccepts(t *testing.T) {
	count := Setting{Name: "clamp-screws", Ask: "How many?", Number: true}
	ohms := Setting{Name: "heater-label", Ask: "Ohms?", Number: true, Unit: "Ω"}
	arm := Setting{Name: "arm", Ask: "Which?", Options: []string{"left", "right"}}
	for _, tt := range []struct {
		name string
		s    Setting
		text string
		ok   bool
	}{
		{"count", count, "4", true},
		{"none of them", count, "0", true},
		{"as many as two digits", count, "99", true},
		{"no machine has that many", count, "100", false},
		{"half a screw", count, "4.5", false},
		{"a word", count, "four", false},
		{"below nothing", count, "-1", false},
		{"measure", ohms, "14.4", true},
		{"decimal comma", ohms, "14,4", true},
		{"measured nothing", ohms, "0", false},
		{"unit typed with it", ohms, "14.4 Ω", true},
		{"another unit typed with it", ohms, "14.4 mm", false},
		{"read two ways", ohms, "14,400", false},
		{"beyond what is measured", ohms, "100000", false},
		{"not a number", ohms, "NaN", false},
		{"option", arm, "left", true},
		{"no option", arm, "up", false},
		{"free text", Setting{Name: "plug-tag"}, "H 1", true},
	} {
		t.Run(tt.name, func(t *testing.T) {
			if _, err := tt.s.Value(tt.text); (err == nil) != tt.ok {
				t.Errorf("%q: %v", tt.text, err)
			}
		})
	}
}

// TestSettingKept: a number is kept as the program writes it, however it was typed; what was kept
// before with a comma is still read.
func TestSettingKept(t *testing.T) {
	ohms := Setting{Number: true, Unit: "Ω"}
	for text, want := range map[string]string{"14,4": "14.4", " 1 234 Ω": "1234",
		"1.2340": "1.2340"} {
		if got, err := ohms.Value(text); err != nil || got != want {
			t.Errorf("%q is kept as %q, %v; want %q", text, got, err, want)
		}
	}
	for kept, want := range map[string]float64{"14,4": 14.4, "1,234": 1.234, "4": 4,
		"1.2340": 1.234} {
		if got, ok := SettingNumber(kept); !ok || got != want {
			t.Errorf("%q is read as %v, %v", kept, got, ok)
		}
	}
	if v, ok := SettingNumber("left"); ok {
		t.Errorf("a word is read as %v", v)
	}
}
