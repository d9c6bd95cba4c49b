"""What a customer tells about vehicle, appliances, place and trip, and the first job made of it."""
