package walk

import (
	"strings"

	"bench/oilcan/model"
)

// powerLocked tells whether a stop of this session, or one it was begun under, keeps power away. It
// holds to the session's end: clearing the stop by name lets the next session have power.
func (w *Walk) powerLocked() bool { return w.Stopped != "" || w.Begun.Locked }

// stoppedNow tells whether power is locked here, or by a stop that was found elsewhere meanwhile.
func (w *Walk) stoppedNow(m *model.Machine) bool {
	return w.powerLocked() || m.Stopped()
}

// stopTag says which tag keeps the power away, and why it was put on: "Tagged stopped: scorch
// smell. ". "" where neither session nor machine says.
func (w *Walk) stopTag(c Context) string {
	why := w.Stopped
	if m := c.Machine; why == "" && m != nil && m.Tag != nil {
		why = m.Tag.Why
	}
	if why == "" {
		return ""
	}
	return "Tagged stopped: " + strings.TrimSuffix(why, ".") + ". "
}
