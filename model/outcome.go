package model

import (
	"strings"
	"time"
)

// Complaint is what a session was begun for: symptoms seen, and the care that is to cure them.
type Complaint struct {
	Symptoms  []string `json:"symptoms"`
	Procedure string   `json:"procedure"` // the care whose cure is judged
	Start     string   `json:"start"`     // what the session begins with: it, or its look
}

// Outcome says whether care cured a symptom.
type Outcome struct {
	Symptom   string   `json:"symptom"`
	Procedure string   `json:"procedure"`
	Is        CureWord `json:"is"`
	Session   string   `json:"session,omitempty"` // the session it was asked about
}

// Tally counts how often care cured a symptom on one machine, and how often it did not.
type Tally struct {
	Cured int       `json:"cured,omitempty"`
	Not   int       `json:"not,omitempty"`
	At    time.Time `json:"at"` // the latest
}

// Complained is a complaint whose outcome was not said yet.
type Complained struct {
	Complaint
	Session string    `json:"session"`
	At      time.Time `json:"at"` // when the session was begun
}

// maxTallies is how many pairs of symptom and care a machine's snapshot holds.
const maxTallies = 40

// TallyKey names a symptom and care in Machine.Outcomes.
func TallyKey(symptom, procedure string) string { return symptom + "/" + procedure }

// judged books an outcome. The one longest ago gives way where there is no room.
func (m *Machine) judged(e Entry) {
	o := e.Outcome
	if c := m.Complaint; c != nil && o.Session != "" && c.Session == o.Session {
		m.Complaint = nil
	}
	if o.Is == CureUnknown {
		return
	}
	key := TallyKey(o.Symptom, o.Procedure)
	t := m.Outcomes[key]
	if t == nil {
		if m.Outcomes == nil {
			m.Outcomes = map[string]*Tally{}
		}
		t = &Tally{}
		m.Outcomes[key] = t
	}
	switch o.Is {
	case Cured:
		t.Cured++
	case NotCured:
		t.Not++
	}
	t.At = e.At
	for len(m.Outcomes) > maxTallies {
		delete(m.Outcomes, m.oldestTally())
	}
}

// oldestTally is the key said longest ago; of two said together, the first by name.
func (m *Machine) oldestTally() string {
	oldest := ""
	for key, t := range m.Outcomes {
		if oldest == "" {
			oldest = key
			continue
		}
		if d := t.At.Compare(m.Outcomes[oldest].At); d < 0 || d == 0 &&
			strings.Compare(key, oldest) < 0 {
			oldest = key
		}
	}
	return oldest
}

// complain keeps what a session is begun for, until its outcome is said.
func (m *Machine) complain(e Entry) {
	if c := e.Begun.Complaint; c != nil {
		m.Complaint = &Complained{Complaint: *c, Session: e.Session, At: e.At}
	}
}
