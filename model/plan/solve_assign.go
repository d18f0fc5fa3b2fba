package plan

// impossible is the cost of an assignment that must not be.
const impossible = 1 << 20

// rowPotentials solves the assignment problem of a square matrix (the Hungarian method of Kuhn 1955
// in the shortest-path form of Jonker and Volgenant 1987) and gives the dual value of each row: no
// assignment costs less than the sum over rows of these and over columns of what is left in them.
func rowPotentials(cost [][]int32) []int32 {
	n := len(cost)
	const far = int32(1) << 30
	u, v := make([]int32, n+1), make([]int32, n+1)
	match, way := make([]int, n+1), make([]int, n+1) // by column, from 1
	for i := 1; i <= n; i++ {
		match[0] = i
		col := 0
		least, used := make([]int32, n+1), make([]bool, n+1)
		for j := range least {
			least[j] = far
		}
		for match[col] != 0 {
			used[col] = true
			row, delta, next := match[col], far, 0
			for j := 1; j <= n; j++ {
				if used[j] {
					continue
				}
				if c := cost[row-1][j-1] - u[row] - v[j]; c < least[j] {
					least[j], way[j] = c, col
				}
				if least[j] < delta {
					delta, next = least[j], j
				}
			}
			for j := range used {
				if used[j] {
					u[match[j]] += delta
					v[j] -= delta
				} else {
					least[j] -= delta
				}
			}
			col = next
		}
		for col != 0 {
			prev := way[col]
			match[col] = match[prev]
			col = prev
		}
	}
	return u[1:]
}
