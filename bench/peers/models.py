"""The equations of motion, once for all Python peers.

The same formulas as the engine's, in the engine's order; `build` fills in the
square root, the choice, the table and the compiler of each peer. The constants
are closed over, so that a compiler may fold them.
"""


def build(problem, sqrt, where, curve, jit=lambda f: f):
    """The rate of change of one flight, or of a batch of them.

    Returns `rate(wind_x, wind_y, *state) -> rates of the state`.
    """
    load = LOADS[problem.family](problem.constants, sqrt, where, curve, jit)
    if problem.family == "sphere":
        return point(problem.constants, load, sqrt, jit)
    return rigid(problem.constants, load, sqrt, jit)


def point(c, load, sqrt, jit):
    """A body whose attitude does not matter: six numbers."""
    per_mass, weight = c["per_mass"], c["weight"]

    def rate(wind_x, wind_y, x, y, z, vx, vy, vz):
        ux, uy = vx - wind_x, vy - wind_y
        drag = load(sqrt(ux * ux + uy * uy + vz * vz)) * per_mass
        return vx, vy, vz, drag * ux, drag * uy, drag * vz - weight

    return jit(rate)


def rigid(c, load, sqrt, jit):
    """A rigid body: thirteen numbers."""
    per_mass, weight = c["per_mass"], c["weight"]
    per_x, per_y, per_z = c["per_x"], c["per_y"], c["per_z"]
    gyro_x, gyro_y, gyro_z = c["gyro_x"], c["gyro_y"], c["gyro_z"]

    def turned(vx, vy, vz, qx, qy, qz, qw):
        tx = 2.0 * (qy * vz - qz * vy)
        ty = 2.0 * (qz * vx - qx * vz)
        tz = 2.0 * (qx * vy - qy * vx)
        return (
            vx + qw * tx + (qy * tz - qz * ty),
            vy + qw * ty + (qz * tx - qx * tz),
            vz + qw * tz + (qx * ty - qy * tx),
        )

    turned = jit(turned)

    def rate(wind_x, wind_y, x, y, z, vx, vy, vz, qx, qy, qz, qw, wx, wy, wz):
        ux, uy, uz = turned(vx - wind_x, vy - wind_y, vz, qx, qy, qz, -qw)
        fx, fy, fz, mx, my, mz = load(ux, uy, uz, wx, wy, wz)
        ax, ay, az = turned(fx * per_mass, fy * per_mass, fz * per_mass, qx, qy, qz, qw)
        hx, hy, hz = 0.5 * wx, 0.5 * wy, 0.5 * wz
        return (
            vx,
            vy,
            vz,
            ax,
            ay,
            az - weight,
            qw * hx + qy * hz - qz * hy,
            qw * hy + qz * hx - qx * hz,
            qw * hz + qx * hy - qy * hx,
            -(qx * hx + qy * hy + qz * hz),
            mx * per_x + gyro_x * wy * wz,
            my * per_y + gyro_y * wz * wx,
            mz * per_z + gyro_z * wx * wy,
        )

    return jit(rate)


def sphere(c, sqrt, where, curve, jit):
    """Drag per speed of a smooth ball."""
    reynolds, drag = c["reynolds"], c["drag"]

    def load(speed):
        return -drag * curve(reynolds * speed)

    return jit(load)


def plate(c, sqrt, where, curve, jit):
    """Force and moment on a flat sheet, in the body frame."""
    normal, face_on = c["normal"], c["face_on"]
    lead_x, lead_y, friction = c["lead_x"], c["lead_y"], c["friction"]
    edge_x, edge_y = c["edge_x"], c["edge_y"]
    tip_x, tip_y, lift_x, lift_y = c["tip_x"], c["tip_y"], c["lift_x"], c["lift_y"]
    torque_x, torque_y = c["torque_x"], c["torque_y"]
    roll_x, roll_y = c["roll_x"], c["roll_y"]
    spin, radius = c["spin"], c["radius"]
    slope, per_stall = c["slope"], 1.0 / c["stall"]

    def load(ux, uy, uz, wx, wy, wz):
        xx, yy, zz = ux * ux, uy * uy, uz * uz
        squared = xx + yy + zz
        speed = sqrt(squared)
        inverse = 1.0 / (squared + 1e-30)

        sine, square = uz * speed * inverse, zz * inverse
        arc = ((0.04 * square + 0.0446) * square + 0.075) * square
        arc = (arc + 1.0 / 6.0) * square + 1.0
        unstalled = sine * arc * slope
        stalled = where(sine < 0.0, -face_on, face_on)
        beyond = square * per_stall
        beyond2 = beyond * beyond
        beyond4 = beyond2 * beyond2
        beyond8 = beyond4 * beyond4
        weight = beyond8 * beyond4
        pressure = -(normal * squared * (weight * stalled + unstalled) / (weight + 1.0))

        lead = sqrt(xx + yy) / (squared + speed * abs(uz) + 1e-30)
        ahead_x, ahead_y = lead_x * ux * lead, lead_y * uy * lead
        skin = friction * speed
        along_x = (edge_x * abs(ux) + skin) * ux
        along_y = (edge_y * abs(uy) + skin) * uy

        turn_x, turn_y = lift_x * wx, lift_y * wy
        about_x = torque_x * (sqrt(yy + zz) - tip_x * abs(wx)) - roll_x * abs(ux)
        about_y = torque_y * (sqrt(xx + zz) - tip_y * abs(wy)) - roll_y * abs(uy)
        return (
            turn_y * uz - along_x,
            -(turn_x * uz + along_y),
            turn_x * uy + pressure - turn_y * ux,
            ahead_y * pressure + about_x * wx,
            about_y * wy - ahead_x * pressure,
            -spin * (radius * abs(wz) + speed) * wz,
        )

    return jit(load)


def rod(c, sqrt, where, curve, jit):
    """Force and moment on a slender bar, in the body frame."""
    reynolds, across, strip, damping = c["reynolds"], c["across"], c["strip"], c["damping"]
    end, skin, nose, half = c["end"], c["skin"], c["nose"], c["half"]

    def load(ux, uy, uz, wx, wy, wz):
        crossing = uy * uy + uz * uz
        strips = strip * (wy * wy + wz * wz) + crossing + 1e-30
        drag = across * curve(reynolds * sqrt(strips))
        tip = nose * abs(ux)
        lever = half * nose * ux
        sideways = drag + tip
        axial = end * abs(ux) + skin * sqrt(ux * ux + crossing)
        aligned = (wz * uy - wy * uz) / strips
        damp = drag * damping
        return (
            -axial * ux,
            -sideways * uy,
            -sideways * uz,
            0.0 * ux,
            lever * uz - damp * (wy - aligned * uz),
            -(lever * uy + damp * (aligned * uy + wz)),
        )

    return jit(load)


LOADS = {"sphere": sphere, "plate": plate, "rod": rod}
