using System.Reflection.Metadata;

namespace BoardSim.Cli.Tests.Architecture;

/// <summary>Names of types in metadata.</summary>
internal static class MetadataNames
{
    /// <summary>Full name of a type, or of the outermost type around it when it is nested.</summary>
    public static string Outermost(MetadataReader reader, TypeDefinitionHandle handle)
    {
        var type = reader.GetTypeDefinition(handle);
        while (!type.GetDeclaringType().IsNil)
        {
            type = reader.GetTypeDefinition(type.GetDeclaringType());
        }

        return Full(reader, type.Namespace, type.Name);
    }

    public static string Full(MetadataReader reader, StringHandle space, StringHandle name) =>
        space.IsNil ? reader.GetString(name) : $"{reader.GetString(space)}.{reader.GetString(name)}";
}
