g21
g90
m83
g92 x0 y0 z0 e0
g1 x10 e1 f600
g1 x20 e1
g1 x30 e1
t0
t1
m600
