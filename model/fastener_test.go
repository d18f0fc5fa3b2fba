package model

import (
	"math"
	"strings"
	"testing"
)

// Hex key sizes as the standards' dimension tables give them: ISO 4762, ISO 7380-1, ISO 10642, ISO
// 4026 to 4029. M2 and M2.5 with button or countersunk head are trade parts, from memory.
func TestHexKey(t *testing.T) {
	for _, row := range []struct {
		size                          string
		cap, button, countersunk, set float64
	}{
		{"M1.6", 1.5, 0, 0, 0.7},
		{"M2", 1.5, 1.3, 1.3, 0.9},
		{"M2.5", 2, 1.5, 1.5, 1.3},
		{"M3", 2.5, 2, 2, 1.5},
		{"M4", 3, 2.5, 2.5, 2},
		{"M5", 4, 3, 3, 2.5},
		{"M6", 5, 4, 4, 3},
		{"M8", 6, 5, 5, 4},
	} {
		for head, want := range map[string]float64{"cap": row.cap, "button": row.button,
			"countersunk": row.countersunk, "set": row.set} {
			got, ok := HexKey(head, row.size)
			if got != want || ok != (want > 0) {
				t.Errorf("HexKey(%s, %s) = %g, %v, want %g", head, row.size, got, ok, want)
			}
		}
	}
	if _, ok := HexKey("hexagon", "M3"); ok {
		t.Error("HexKey knows a head that takes no hex key")
	}
}

// Geometry as ISO 724 and ISO 898-1 calculate it; nominal stress areas of ISO 898-1.
func TestThreadGeometry(t *testing.T) {
	for _, row := range []struct {
		size             string
		d2, area, nomina float64
	}{
		{"M2", 1.7402, 2.0732, 2.07},
		{"M2.5", 2.2077, 3.3908, 3.39},
		{"M3", 2.6752, 5.0308, 5.03},
		{"M4", 3.5453, 8.7787, 8.78},
		{"M5", 4.4804, 14.1825, 14.2},
		{"M6", 5.3505, 20.1234, 20.1},
		{"M8", 7.1881, 36.6085, 36.6},
	} {
		if got := PitchDiameter(row.size); math.Abs(got-row.d2) > 1e-4 {
			t.Errorf("PitchDiameter(%s) = %.4f, want %.4f", row.size, got, row.d2)
		}
		got := StressArea(row.size)
		if math.Abs(got-row.area) > 1e-4 || math.Abs(got-row.nomina) > 0.005*row.nomina {
			t.Errorf("StressArea(%s) = %.4f, want %.4f (nominal %g)", row.size, got, row.area,
				row.nomina)
		}
	}
	if PitchDiameter("M99") != 0 {
		t.Error("PitchDiameter knows M99")
	}
}

// Torques recomputed by VDI 2230 part 1 with friction 0.12, and beside them what its table A1
// prints (from memory, two or three figures).
func TestTorqueInSteel(t *testing.T) {
	for _, row := range []struct {
		size, class   string
		want, printed float64
	}{
		{"M2", "8.8", 0.359, 0}, {"M2", "10.9", 0.528, 0}, {"M2", "12.9", 0.618, 0},
		{"M2", "A2-70", 0.253, 0},
		{"M2.5", "8.8", 0.740, 0}, {"M2.5", "10.9", 1.087, 0}, {"M2.5", "12.9", 1.272, 0},
		{"M2.5", "A2-70", 0.521, 0},
		{"M3", "8.8", 1.286, 1.3}, {"M3", "10.9", 1.889, 1.9}, {"M3", "12.9", 2.211, 2.2},
		{"M3", "A2-70", 0.904, 0},
		{"M4", "8.8", 2.963, 3.0}, {"M4", "10.9", 4.352, 4.4}, {"M4", "12.9", 5.093, 5.1},
		{"M4", "A2-70", 2.083, 0},
		{"M5", "8.8", 5.843, 5.9}, {"M5", "10.9", 8.581, 8.6}, {"M5", "12.9", 10.042, 10.0},
		{"M5", "A2-70", 4.108, 0},
		{"M6", "8.8", 10.149, 10.1}, {"M6", "10.9", 14.907, 14.9}, {"M6", "12.9", 17.444, 17.4},
		{"M6", "A2-70", 7.136, 0},
		{"M8", "8.8", 24.573, 24.6}, {"M8", "10.9", 36.092, 36.1}, {"M8", "12.9", 42.235, 42.2},
		{"M8", "A2-70", 17.278, 0},
	} {
		got, ok := TorqueInSteel(row.size, row.class)
		if !ok || math.Abs(got-row.want) > 0.001*row.want+0.0005 {
			t.Errorf("TorqueInSteel(%s, %s) = %.3f, want %.3f", row.size, row.class, got, row.want)
		}
		if row.printed > 0 && math.Abs(got-row.printed) > 0.015*row.printed {
			t.Errorf("TorqueInSteel(%s, %s) = %.3f, printed table has %.1f", row.size, row.class,
				got, row.printed)
		}
	}
	for _, bad := range [][2]string{{"M1.6", "8.8"}, {"M3", "4.6"}, {"", ""}} {
		if nm, ok := TorqueInSteel(bad[0], bad[1]); ok {
			t.Errorf("TorqueInSteel(%s, %s) = %g, want none", bad[0], bad[1], nm)
		}
	}
}

// Where a figure may stand and where only the rule: the owner's decision, common practice.
func TestCeiling(t *testing.T) {
	for _, tc := range []struct {
		name string
		f    Fastener
		want float64 // 0: no figure
		why  string  // part of Why
	}{
		{"cap in steel", Fastener{Head: "cap", Size: "M3", Class: "8.8", Thread: "steel"}, 1.286,
			"yields"},
		{"button in steel carries 80 %", Fastener{Head: "button", Size: "M3", Class: "8.8",
			Thread: "steel"}, 1.029, "yields"},
		{"stainless", Fastener{Head: "cap", Size: "M4", Class: "A2-70", Thread: "steel"}, 2.083,
			"yields"},
		{"no class", Fastener{Head: "cap", Size: "M3", Thread: "steel"}, 0, "class or size"},
		{"aluminium, engagement unknown", Fastener{Head: "cap", Size: "M3", Class: "8.8",
			Thread: "aluminium"}, 0, "4.5 mm"},
		{"aluminium, too little engaged", Fastener{Head: "cap", Size: "M3", Class: "8.8",
			Thread: "aluminium", Engagement: 4}, 0, "4.5 mm"},
		{"aluminium, enough engaged", Fastener{Head: "cap", Size: "M3", Class: "8.8",
			Thread: "aluminium", Engagement: 4.5}, 1.286, "tears"},
		{"brass", Fastener{Head: "cap", Size: "M3", Class: "8.8", Thread: "brass"}, 0,
			"no torque value"},
		{"insert", Fastener{Head: "cap", Size: "M3", Class: "8.8", Thread: "insert"}, 0,
			"no torque value"},
		{"plastic", Fastener{Head: "button", Size: "M3", Class: "8.8", Thread: "plastic"}, 0,
			"no torque value"},
		{"slot", Fastener{Head: "button", Size: "M3", Class: "8.8", Thread: "slot"}, 0,
			"no torque value"},
		{"set screw", Fastener{Head: "set", Size: "M3", Class: "8.8", Thread: "steel"}, 0,
			"no torque value"},
		{"pivot", Fastener{Head: "cap", Size: "M3", Class: "8.8", Thread: "steel", Turn: "1/16"}, 0,
			"no torque value"},
		{"snug only", Fastener{Head: "cap", Size: "M3", Class: "8.8", Thread: "steel",
			Turn: "snug"}, 0, "no torque value"},
		{"undone", Fastener{Head: "cap", Size: "M3", Class: "8.8", Thread: "steel", Turn: "undo"},
			0, ""},
		{"unknown thread", Fastener{Head: "cap", Size: "M3", Class: "8.8", Thread: "wood"}, 0,
			"no torque value"},
	} {
		got := tc.f.Ceiling()
		if math.Abs(got.Ceiling-tc.want) > 0.001 || (got.Source != "") != (tc.want > 0) {
			t.Errorf("%s: ceiling %.3f (%q), want %.3f", tc.name, got.Ceiling, got.Source, tc.want)
		}
		if (got.Rule == "") != (tc.f.Turn == "undo") || !strings.Contains(got.Why, tc.why) {
			t.Errorf("%s: rule %q, why %q, want %q in it", tc.name, got.Rule, got.Why, tc.why)
		}
	}
}
