package procedures

import (
	"strings"
	"testing"
)

// provedLater is a sound file whose proof owed later makes a procedure due.
const provedLater = `
[[later]]
when = "proof"
name = "again"
do = "Look at the ends."
gate = "choice"
options = ["square", { is = "slanted", miss = { then = "due", procedures = ["ID"], say = "Not square: it is due again." } }]
`

func TestDueOnItself(t *testing.T) {
	for name, tc := range map[string]struct{ due, says string }{
		"a proof owed later makes its own file due": {due: "blade-check"},
		"another file":       {due: "rods-wipe"},
		"an id nobody knows": {due: "no-such-care", says: "unknown procedure"},
		"a set-up action":    {due: "unplug", says: "set-up action"},
	} {
		t.Run(name, func(t *testing.T) {
			text := small("blade-check", "rung = \"dust\"\n") +
				strings.ReplaceAll(provedLater, "ID", tc.due)
			l := parsed(t, map[string]string{"blade-check": text,
				"unplug": strings.Replace(small("unplug", ""), `"care"`, `"setup"`, 1)})
			ps := l.Check(l.byID["blade-check"])
			if tc.says == "" && len(ps) > 0 || tc.says != "" &&
				!says(ps, "blade-check.toml", tc.says) {
				t.Errorf("got %v, want %q", ps, tc.says)
			}
		})
	}
}

// A difference in °C is no temperature: 2 °C off a target does not say that the machine is cold.
func TestOffTargetIsNoTemperature(t *testing.T) {
	text := small("heat-tune", "rung = \"proof\"\n\n[leave]\nheat = \"hot\"\n") + `
[[step]]
name = "target"
do = "Type the target."
gate = "measure"
quantity = "tuning temperature"
unit = "°C"
low = 200
high = 300

[[step]]
name = "off"
do = "Type how far it strays."
gate = "measure"
quantity = "hot end off target"
unit = "°C"
low = 0
high = 2
`
	text = strings.Replace(text, `power = "unplugged"`,
		"power = \"on\"\ncover = \"on\"\nsensor = \"proved\"", 1)
	text = strings.Replace(text, `"care"`, `"proof"`, 1)
	l := parsed(t, map[string]string{"heat-tune": text})
	if ps := l.Check(l.byID["heat-tune"]); len(ps) > 0 {
		t.Error(ps)
	}
}
