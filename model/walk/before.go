package walk

import "bench/oilcan/model"

// withSensorProof adds to switch-on the proofs of a parted sensor, as sessions have them that were
// begun before the library described them: such a session goes on by its gates as begun.
func withSensorProof(p *model.Procedure) *model.Procedure {
	q := *p
	low, high, zero := -4.0, 4.0, 0.0
	rise := 20.0
	stop := &model.Miss{Then: model.ThenStop,
		Say: "The sensor does not read true: heat is not safe. Switch off and unplug."}
	q.Steps = append(append([]model.Step(nil), p.Steps...),
		model.Step{Name: "sensor-idle", Gate: model.Measure,
			Do:  "No target set: read hot end and bed, and the room beside them.",
			Ask: "Hot end minus room", Quantity: "idle reading less room", Unit: "°C", Low: &low,
			High: &high, Miss: stop},
		model.Step{Name: "sensor-rise", Gate: model.Measure,
			Do:  "Ask 50 °C with a hand on the switch. The right reading must rise within 20 s.",
			Ask: "Seconds until it rose", Quantity: "rise time", Unit: "s", Low: &zero, High: &rise,
			Miss: stop,
			Set:  map[string]string{"sensor": "proved"}})
	return &q
}
