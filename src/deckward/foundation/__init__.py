"""Units, angles, frames, earth, tracks, smoothing. No knowledge of ships or aircraft.

SI and radians everywhere inside; headings clockwise from true north; attitude is
yaw-pitch-roll (3-2-1). A name carries its unit only at the edges.
"""
