#pragma once
/// Names that one part of the arrangement wires to before another part has made what bears them. Whoever asks for a finished
/// piece takes its number from the installation instead.

#include <array>
#include <string_view>

namespace steadyfire::named {

// pieces
inline constexpr char const *relay = "relay", *tank = "tank", *tank_control = "tank/control", *boiler = "boiler",
                            *return_sensor = "boiler/return sensor", *system_sensor = "system/sensor", *lag_control = "lag/control",
                            *hot_water_control = "hot water/control", *hot_water_sensor = "hot water/sensor",
                            *cold_main = "hot water/cold main";

// pieces of the headers: what stands before the zone's name
inline constexpr std::string_view to_zone = "headers/to ", from_zone = "headers/from ", past_zone = "headers/past ";
inline constexpr std::array of_headers{to_zone, from_zone, past_zone};

/// Before all pieces of hot water.
inline constexpr std::string_view hot_water_group = "hot water/";

// joints
inline constexpr char const *supply_header = "supply header", *return_header = "return header", *boiler_outlet = "boiler outlet",
                            *boiler_inlet = "boiler inlet", *lag_outlet = "lag outlet", *lag_inlet = "lag inlet",
                            *heating_outlet = "heating outlet";

/// What stands before the "/" in names of the arrangement, so that no zone may be called so.
inline constexpr std::array<std::string_view, 7> groups{"boiler", "lag", "system", "tees", "tank", "headers", "hot water"};

}  // namespace steadyfire::named
