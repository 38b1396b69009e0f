"""Every constant of the device models and of the iteration, each with its reason."""

from __future__ import annotations

# Siemens from every node to node 0: far below any real leakage, so that it changes nothing that can be measured, yet an
# island without a connection has one solution.
LEAKAGE = 1e-12

# Above this voltage to node 0 (volts) a node sparks over, through this conductance (siemens): air between the
# contacts of a breadboard, 2.5 mm apart, breaks down near this (about 3 kV a millimetre, from memory). A current
# forced into an open circuit so has a finite voltage that says what it means, and one that arithmetic can hold.
SPARK_VOLTS = 1e4
SPARK_SIEMENS = 1.0

# A step this small ends the iteration (volts, and relative to the voltage). The iteration converges quadratically, so
# the error after such a step is at rounding.
STEP_VOLTS = 1e-9
STEP_RELATIVE = 1e-9

# What Kirchhoff's law may miss at a node: amps, and relative to the sum of the magnitudes of the currents there.
RESIDUAL_AMPS = 1e-12
RESIDUAL_RELATIVE = 1e-9

# Voltages are doubles, so a current through a conductance G at a voltage V is only known to G times the rounding of V.
# A node whose residual is within this many such units cannot be improved, however far a leakage lets it move.
ROUNDING_UNITS = 16.0
# However large those units, more than this many amps are never put down to rounding.
ROUNDING_MOST = 1e-6
# The same for nodes that only leakages hold: the currents of their junctions are differences of larger ones.
ROUNDING_AMPS = 1e-16

# Amps at which a junction that is being switched on is met first: in the middle (logarithmically) of what a breadboard
# carries, so that no real current is more than a few iterations away.
KNEE_AMPS = 1e-3

# Amps below which a junction counts as off when it is switched off.
FLOOR_AMPS = 1e-15

# A tangent's current that falls below nothing by no more than this many times the last current is a fall of a few slopes:
# an exponential follows that by itself, while going down half its decades would throw a saturated transistor off.
FALL_SHARE = 2.5

# The same for the overdrive of a channel, as a share of its slope.
OVERDRIVE_FLOOR = 1e-6
# The same for the life of a driver stage whose supply goes: the share of its current that a leakage can carry.
LIFE_FLOOR = 1e-14

# A junction is moved along its curve instead of its tangent only where the two differ by more than this many slopes:
# near the solution plain Newton steps are quadratic and must not be disturbed.
CLOSE_SLOPES = 0.5

# Elimination: nodes that are left when the rest is dense anyway, and by how much more than the fewest neighbours a node may
# have to be eliminated in the same level (fewer levels against more fill).
CORE_NODES = 4
DEGREE_SLACK = 1
# What a linear solution may miss, relative to the magnitudes of its terms, before it is solved again with pivots: a step
# of Newton's method is as good with six digits, its result is judged by Kirchhoff's law.
LINEAR_RELATIVE = 1e-7

# Members of one wiring are solved in pieces of so many nodes in all, so that what an iteration works on stays in the cache.
PIECE_NODES = 40_000
# Nanoseconds of an iteration, measured: dense a member (times nodes squared, times nodes cubed); sparse a run, which goes
# by itself and has to be planned first, and a node of a member.
DENSE_SQUARED, DENSE_CUBED = 8.0, 0.01
SHARED_RUN, SHARED_NODE = 400_000.0, 150.0
# From so many nodes always sparse: dense solvers then start threads, which costs more than it brings.
ALWAYS_SHARED = 48

# Plain iterations, in two rounds, before the other ways are tried. The first is twice what ordinary circuits take, the
# second five times. Kirchhoff's law is looked at after each.
PLAIN_ITERATIONS = (16, 24)

# After this many iterations a control voltage that swings to and fro is steadied: ordinary circuits are solved by then.
STEADY_AFTER = 8
# A move that turns back and is not this much smaller than the last one is a swing; near a solution moves shrink faster.
SWING_SHARE = 0.25
SWING_VOLTS = 1e-3
# A swing halves the pace of its control voltage, a move that goes on raises it again.
PACE_FALL = 0.5
PACE_RISE = 1.5

# Iterations at each rung of a ladder: rungs are close, a rung that needs more has been lost.
RUNG_ITERATIONS = 25

# Conductances (siemens) to node 0 of the first ladder: from one that overwhelms every load down to nothing.
CONDUCTANCE_LADDER = (*(10.0 ** (-exponent / 2) for exponent in range(2, 25)), 0.0)

# Shares of every source of the second ladder.
SOURCE_LADDER = tuple(step / 25 for step in range(1, 26))

# Damped iterations, the first of those ways. The hold (siemens from each node to its last voltage) starts where loads
# of 10 ohms are already held, shrinks when the residual falls, grows when a step fails.
DAMPED_ITERATIONS = 400
HOLD_START = 0.1
HOLD_SHRINK = 0.4
HOLD_GROW = 4.0
HOLD_DROP = 0.1
HOLD_MOST = 1e6
# A hold this small holds nothing: what is left to do, plain iterations do.
HOLD_LEAST = 1e-10
# Surprise: what the residual is beyond its foretold value, as a share of the last residual. Above the first share a
# step is taken again, below the second the hold shrinks, below the third it drops.
SURPRISE_MOST = 1.0
SURPRISE_SMALL = 0.3
SURPRISE_NONE = 0.01

# Finished members leave the batch once they are this share of it: leaving costs about as much as one iteration of all.
LEAVE_SHARE = 0.5

# Amps above which an exponential without resistance goes on as a straight line: beyond the gain times any current of
# a circuit.
CONTINUATION_AMPS = 1e9
# A source in its electronic limit keeps this share of its conductance; the corner is this share of the limit wide.
LIMITED_SHARE = 1e-4
CORNER_SHARE = 0.02
# Stands for "no limit" where an infinity would meet another one.
UNLIMITED_AMPS = 1e6
# Driver stages: width (V) of the corners at the rails, width (A) of the change between sourcing and sinking, and the
# supply voltage (V) at which a stage comes to life, with the width (V) of that change.
RAIL_CORNER = 0.03
HANDOVER_AMPS = 1e-5
ALIVE_VOLTS = 0.5
ALIVE_CORNER = 0.05

# Pinning: few steps, and a hold (siemens) far above any leakage and far below what carries the currents of a load.
PIN_ITERATIONS = 6
PIN_SIEMENS = 1e-7

# Path following, the very last way. The conductance (siemens) at every node of the trivial circuit is that of an
# ordinary load. Steps are measured in volts (and shares); they grow while a few corrections bring them back onto the
# path to within PATH_CLOSE, and shrink otherwise; one that has become shorter than any feature of a device is lost.
PATH_SIEMENS = 1e-2
PATH_STEPS = 2000
# A large circuit gets fewer steps: each solves dense matrices of all its nodes, and so many entries in all are enough.
PATH_ENTRIES = 20_000_000
PATH_CORRECTIONS = 4
PATH_CLOSE = 1e-7
PATH_START = 1e-3
PATH_GROW = 1.6
PATH_SHRINK = 0.4
PATH_LONGEST = 3.0
PATH_SHORTEST = 1e-12
