package model

// LeftUnplugged tells whether the last session left the machine with its plug out, and nothing on
// record says that it had power since: no session was begun, no print recorded, and its counter was
// not read again.
func (m *Machine) LeftUnplugged() bool {
	last := m.LastSession
	if last == nil || !last.Unplugged || m.Session != "" || m.Printed.After(last.At) {
		return false
	}
	for _, s := range m.Readings {
		if s.Last.At.After(last.At) {
			return false
		}
	}
	return true
}

// OwedUnderPower begins the finding of a check that is owed once there is power.
const OwedUnderPower = "owed under power: "

// OwedAtPower are the findings of checks that are asked for as soon as the machine has power,
// oldest first.
func (m *Machine) OwedAtPower() []Finding {
	var out []Finding
	for _, f := range m.Findings {
		if f.Kind == FoundOwed && f.Hash != "" {
			out = append(out, f)
		}
	}
	return out
}
