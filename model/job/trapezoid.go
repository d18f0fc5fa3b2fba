package job

import "math"

// trapezoid is the time, in s, over the distance d (mm) from speed vi to ve (mm/s) with v in
// between where there is room for it, speeding up and slowing down by a (mm/s²). With
// da = (v²-vi²)/2a and dd = (v²-ve²)/2a: if da+dd <= d, t = (v-vi)/a + (v-ve)/a + (d-da-dd)/v;
// else the peak is vp = sqrt((2ad+vi²+ve²)/2) and t = (2vp-vi-ve)/a. Equations of uniform
// acceleration. It wants 0 <= vi, ve <= v and |ve²-vi²| <= 2ad.
func trapezoid(d, vi, v, ve, a float64) float64 {
	double := 2 * a * d
	ends := vi*vi + ve*ve
	per := 1 / a
	if both := 2*v*v - ends; both <= double { // da+dd, times 2a
		return (2*v-vi-ve)*per + (d-both*0.5*per)/v
	}
	return (2*math.Sqrt((double+ends)/2) - vi - ve) * per
}
