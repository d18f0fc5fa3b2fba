package life

import (
	"math"

	"bench/oilcan/model"
)

// block is the growth of a meter over a week or more.
type block struct {
	days float64 // by the week's rhythm, > 0
	used float64 // >= 0
	age  float64 // days from its middle to the last reading
}

// blocks joins readings, from the last one back, to stretches of a week or more, so that what
// differs between the days of a week is not taken for noise. While there is less than a week, a day
// will do. They come newest first.
func (r *rhythm) blocks(pts []model.Point) []block {
	least := weekBlock
	if pts[len(pts)-1].At.Sub(pts[0].At).Hours()/24 < weekBlock {
		least = 0.9
	}
	var out []block
	end := pts[len(pts)-1]
	last := r.days(end.At)
	for i := len(pts) - 2; i >= 0; i-- {
		a, b := r.days(pts[i].At), r.days(end.At)
		if b-a < least {
			continue
		}
		out = append(out, block{days: r.at(b) - r.at(a), used: end.Value - pts[i].Value, age: last - (a+b)/2})
		end = pts[i]
	}
	return out
}

// moments are the mean and the variance of a process a day, and what they rest on.
type moments struct {
	mean  float64 // units a day
	noise float64 // units² a day
	days  float64 // weighted days
	n     float64 // weighted stretches
}

// momentsOf are the moment estimates of a stationary gamma process seen at irregular intervals (van
// Noortwijk 2009, method of moments, after Çinlar, Bažant and Osman 1977): mean = Σδ/Σw and
//
//	variance a day = Σ(δ − mean·w)² / (Σw − Σw²/Σw)
//
// for growth δ over w days, which has no bias. Here each stretch has a weight g = 2^(−age/half)
// too, and the divisor that keeps it free of bias is Σgw − 2Σg²w²/G + Σgw²·Σg²w/G² with G = Σgw.
func momentsOf(bs []block, half float64) moments {
	var m moments
	var gw2, g2w, g2w2 float64
	used := 0.0
	for _, b := range bs {
		g := math.Exp2(-b.age / half)
		used += g * b.used
		m.days += g * b.days
		m.n += g
		gw2 += g * b.days * b.days
		g2w += g * g * b.days
		g2w2 += g * g * b.days * b.days
	}
	if !(m.days > 0) {
		return moments{}
	}
	m.mean = used / m.days
	if len(bs) < 2 {
		m.n = 0
		return m
	}
	sum := 0.0
	for _, b := range bs {
		e := b.used - m.mean*b.days
		sum += math.Exp2(-b.age/half) * e * e
	}
	if free := m.days - 2*g2w2/m.days + gw2*g2w/(m.days*m.days); free > 0 {
		m.noise = sum / free
	}
	return m
}

// miss is the error of a forecast made over again.
type miss struct {
	days  float64 // how far it looked
	of    float64 // error, as a share of the pace then, days
	share float64 // of an independent forecast
}

// replay chooses the half-life by which the meter's own past would have been forecast best, and
// gives the errors it would have made. With too short a past it is the usual one.
func replay(bs []block) (half float64, errs []miss) {
	best := math.Inf(1)
	for i, h := range halves {
		got, loss := replayed(bs, h)
		if i == 0 || len(got) >= 5 && loss < best {
			half, errs, best = h, got, loss
		}
	}
	return half, errs
}

// replayed forecasts, from every stretch after the third, the growth of the next four and the next
// eight, by the mean of what came before with a half-life; loss is the mean squared error a day.
func replayed(bs []block, half float64) (errs []miss, loss float64) {
	var used, days, allUsed, allDays float64
	for i := len(bs) - 1; i >= 0; i-- {
		if len(bs)-1-i >= 3 && allUsed > 0 {
			pace := used / days
			unit := max(pace, allUsed/allDays/3) // after a long pause a share of next to nothing is no measure
			for _, n := range [...]int{4, 8} {
				if n > i+1 {
					continue
				}
				e := missOf(bs[i-n+1:i+1], pace, unit)
				errs, loss = append(errs, e), loss+e.of*e.of/(e.days*e.days)
			}
		}
		fade := math.Exp2(-bs[i].days / half)
		used, days = used*fade+bs[i].used, days*fade+bs[i].days
		allUsed, allDays = allUsed+bs[i].used, allDays+bs[i].days
	}
	return errs, loss / float64(max(1, len(errs)))
}

func missOf(next []block, pace, unit float64) miss {
	e := miss{share: 1 / float64(len(next))}
	used := 0.0
	for _, b := range next {
		used, e.days = used+b.used, e.days+b.days
	}
	e.of = (used - pace*e.days) / unit
	return e
}

// driftOf is the squared coefficient of variation of the pace that explains the errors beyond the
// noise: a forecast over t days errs by noise·t + drift·t², as a share of the pace.
func driftOf(errs []miss, noise float64) float64 {
	sum, n := 0.0, 0.0
	for _, e := range errs {
		sum += e.share * (e.of*e.of - noise*e.days) / (e.days * e.days)
		n += e.share
	}
	return min(driftMost, (driftPrior*driftPrior+max(0, sum))/(1+n))
}
