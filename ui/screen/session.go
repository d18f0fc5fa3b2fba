package screen

import "bench/oilcan/ui/sitting"

// session gives the makers of the care session's screens, all at one desk.
func (e *Env) session(d sitting.Desk) Makers {
	return Makers{
		Plan:    func(machine string) Screen { return NewPlan(e, d, machine) },
		Walk:    func(session string) Screen { return NewWalk(e, d, session, false) },
		Symptom: func(machine string) Screen { return NewSymptom(e, d, machine) },
		Job:     func(machine string) Screen { return NewJob(e, d, machine) },
		Summary: func(session string) Screen { return NewSummary(e, d, session) },
	}
}
