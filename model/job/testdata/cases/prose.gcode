Dear reader,
A roll is gone: who has it?
I need it
please write,
G1 X1
