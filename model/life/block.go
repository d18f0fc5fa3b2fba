package life

import (
	"bench/oilcan/model"
)

// block is the growth of a meter over a week or more.
type block struct {
	days float64 // by the week's rhythm, > 0
	used float64 // >= 0
}

// blocks joins readings, from the last one back, to stretches of a week or more, so that what
// differs between the days of a week is not taken for noise. While there is less than a week, a day
// will do. They come newest first.
func (r *rhythm) blocks(pts []model.Point, rests []model.Rest) []block {
	least := weekBlock
	if pts[len(pts)-1].At.Sub(pts[0].At).Hours()/24 < weekBlock {
		least = 0.9
	}
	var out []block
	end := pts[len(pts)-1]
	for i := len(pts) - 2; i >= 0; i-- {
		a, b := r.days(pts[i].At), r.days(end.At)
		rested := model.RestedIn(rests, pts[i].At, end.At)
		if b-a-rested < least {
			continue
		}
		out = append(out, block{days: max(least/7, r.at(b)-r.at(a)-rested),
			used: end.Value - pts[i].Value})
		end = pts[i]
	}
	return out
}
