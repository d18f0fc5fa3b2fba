// Package life says how long things last: when a gauge will reach an end of its band (forecast.go),
// how long parts last on this bench (weibull.go), at what age to renew one (replace.go), and what
// to keep in the drawer (spares.go). It is pure: values in, values out, the time handed in.
//
// A forecast rests on one meter's readings on one machine:
//
//	f := life.NewForecaster(machine, now)
//	for _, g := range f.Gauges(procs) {
//		// g.DueLow, g.DueMid, g.DueHigh: as likely before as after; g.Forecast: 10, 50 and 90 %
//		p, ok := f.PassBefore(&g, g.High, nextSitting)
//	}
//
// Figures of the trade that stand in this package (paces by duty, the shape a wearing part is taken
// to have) are marked "from memory": they only lead where the bench has no record of its own yet.
package life
