package plan

import "math/bits"

// maxJobs is how many procedures one session can hold.
const maxJobs = 128

// set is a set of job numbers below maxJobs.
type set [2]uint64

func (s set) has(i int) bool    { return s[i>>6]>>(i&63)&1 != 0 }
func (s set) with(i int) set    { s[i>>6] |= 1 << (i & 63); return s }
func (s set) without(i int) set { s[i>>6] &^= 1 << (i & 63); return s }
func (s set) or(t set) set      { return set{s[0] | t[0], s[1] | t[1]} }
func (s set) and(t set) set     { return set{s[0] & t[0], s[1] & t[1]} }
func (s set) minus(t set) set   { return set{s[0] &^ t[0], s[1] &^ t[1]} }
func (s set) in(t set) bool     { return s[0]&^t[0] == 0 && s[1]&^t[1] == 0 }
func (s set) meets(t set) bool  { return s[0]&t[0] != 0 || s[1]&t[1] != 0 }
func (s set) empty() bool       { return s[0] == 0 && s[1] == 0 }
func (s set) len() int          { return bits.OnesCount64(s[0]) + bits.OnesCount64(s[1]) }

// next takes the smallest number out of a set that is not empty.
func (s *set) next() int {
	if s[0] != 0 {
		i := bits.TrailingZeros64(s[0])
		s[0] &= s[0] - 1
		return i
	}
	i := bits.TrailingZeros64(s[1])
	s[1] &= s[1] - 1
	return i + 64
}

// firstJobs is the set of the numbers below n.
func firstJobs(n int) set {
	var s set
	for i := range n {
		s = s.with(i)
	}
	return s
}
