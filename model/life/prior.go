package life

import "bench/oilcan/model"

// prior is what is taken for granted of a meter's pace before its readings tell more.
type prior struct {
	mean  float64 // units a day; 0: nothing can be said
	cv2   float64 // squared coefficient of variation of the pace from bench to bench
	noise float64 // squared coefficient of variation of one day's use, in days
}

// Paces by duty, units a day (all from memory; a bench's own readings outweigh them within days).
// Hours of one polymer depend on what is printed, not on the duty, so nothing is taken for granted
// of them.
var pacesByDuty = map[model.Duty]map[model.Meter]float64{
	model.Home:       {model.Hours: 3, model.Changes: 20, model.Starts: 1.2, model.Cuts: 21.2},
	model.Production: {model.Hours: 12, model.Changes: 80, model.Starts: 3, model.Cuts: 83},
}

// priorOf gives the prior of a meter by duty. The spread between benches and the noise of a day are
// from memory: a home bench stands still for days and differs from the next by a factor of two or
// three, a production bench less so.
func priorOf(duty model.Duty, meter model.Meter) prior {
	if duty == model.Production {
		return prior{mean: pacesByDuty[duty][meter], cv2: 0.5, noise: 1.5}
	}
	return prior{mean: pacesByDuty[model.Home][meter], cv2: 1, noise: 6}
}
