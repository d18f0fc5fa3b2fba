// Package life says how long things last: when a gauge will reach an end of its band (forecast.go),
// how long parts last on this bench (weibull.go), at what age to renew one (replace.go), and what
// to keep in the drawer (spares.go). It is pure: values in, values out, the time handed in.
//
// A forecast rests on one meter's readings on one machine:
//
//	f := life.NewForecaster(machine, now)
//	for _, g := range f.Gauges(procs) {
//		// g.DueLow, g.DueMid, g.DueHigh: as likely before as after; g.Forecast: 10, 50 and 90 %
//		p, ok := f.PassBefore(&g, g.High, nextSession)
//	}
//
// Figures of the trade that stand in this package (paces by duty, the shape a wearing part is taken
// to have) are marked "from memory": they only lead where the bench has no record of its own yet.
//
// # What it holds to
//
// model/life is pure and has no knobs; life.Gauges stands in for model.Gauges wherever a person
// looks.
//
//   - Pace. One meter of one machine is a gamma process (van Noortwijk 2009, moment estimates for
//     irregular readings) in a time that runs by the week's rhythm. The half-life with which old
//     readings fade is the one that would have forecast this meter's own past best; what those
//     forecasts missed beyond the noise widens the next. Without two readings a day apart the
//     duty's usual pace stands in, and every date that rests on it says "from memory" or "no
//     history".
//   - Dates. DueLow, DueMid and DueHigh are medians; Gauge.Forecast has 10, 50 and 90 %, what the
//     next care will find (30 days on at home, 14 in production, common practice) and how likely
//     the high end is passed by then.
//   - Due by estimate. Where the median lies behind, the gauge is due though its last reading is
//     below the band: condition is "due", fraction below 1, and screens say "by estimate". A gauge
//     nobody reads must not look fresh. What was renewed after the last reading counts from its
//     renewal on, not from the reading.
//   - Lives. All machines of the bench count together. A part is short-lived where three of its
//     latest five ends and more had a median below 60 % of the low end by every meter its care
//     counts: a blade on a machine that hardly changes filament is worn by the calendar. An own
//     band ends the remark.
//   - Wear-out is said from five ends on and only if the lower 95 % bound of the shape is 1 or
//     more; nothing is renewed by age before.
//   - Order by is the last day on which an order still comes before the drawer is empty with more
//     than 5 %, or before the minimum kept is more likely reached than not.
//
// Checked against: Weibull fits of the NIST handbook 8.4.1.3 and of data sets printed in Lawless
// and in Meeker and Escobar (weibull_test.go), age replacement of Jardine and Tsang and by the
// optimality condition (replace_test.go), Poisson tables (spares_test.go), gamma-Poisson of Hoff
// 2009 (spares_test.go), adjusted ranks of Abernethy (part_test.go, from memory), the trade's bands
// as common practice (procedures/trade_bands_test.go).
//
// How well the dates hold, on a seeded simulation of benches (go test -run Calibration -v); the test
// wants 75 to 85 % of all pooled:
//
//	bench                                 dates        within 10–90 %, %   before   after
//	steady                                 1047                     84.8      8.7     6.5
//	weekend-only                           1048                     82.1     12.0     5.9
//	bursts                                 1042                     77.0     12.4    10.7
//	holidays                               1045                     81.9      6.4    11.7
//	ramp-up                                1053                     82.3     11.1     6.6
//	all pooled                             5235                     81.6     10.1     8.3
//	with less than 90 days of readings      765                     77.4     11.0    11.6
package life
